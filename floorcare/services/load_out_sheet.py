"""View of a load-out: what goes in the van for one crew-night, or of a branch's whole week."""

from dataclasses import dataclass
from datetime import date

from floorcare.ground.crews.load_out import BranchLoadOut, LoadOut
from floorcare.ground.trade.site import Branch
from floorcare.services.sheets import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadOutSheet:
    """Load-outs on paper, a page a crew-night.

    starts_on : first day of the week they belong to.
    week : the branch's week summed, None on the paper of a single crew.
    """

    branch: str
    branch_code: str
    starts_on: date
    nights: tuple[LoadOut, ...]
    units: Units = "metric"
    week: BranchLoadOut | None = None
    as_of: str = ""


def load_out_sheet(
    branch: Branch,
    starts_on: date,
    nights: tuple[LoadOut, ...],
    *,
    week: BranchLoadOut | None = None,
    as_of: str = "",
) -> LoadOutSheet:
    """The load-outs of a branch or of one of its crews, in the order given."""
    return LoadOutSheet(
        branch=branch.name,
        branch_code=branch.code,
        starts_on=starts_on,
        nights=nights,
        units=branch.units,
        week=week,
        as_of=as_of,
    )
