"""How much is known of a zone's floor, in one word a planner can act on."""

from enum import StrEnum

from floorcare.ground.wear.estimate import Fit
from floorcare.ground.wear.model import Flags

MEASURED_ROUNDS = 4
"""Reading rounds from which a zone counts as measured. Assumption."""
MEASURED_WITHIN_DAYS = 120
"""The last of them at most so long ago. Assumption: two rounds a quarter, one missed."""


class EvidenceClass(StrEnum):
    """What stands behind a zone's forecast."""

    MEASURED = "measured"
    SPARSE = "sparse"
    LOOKED_AT = "looked-at"
    ASSUMED = "assumed"


def evidence_of(rounds: int, days_since_last: int, looked_at: bool) -> EvidenceClass:
    """The evidence class of one zone.

    Parameters
    ----------
    rounds : days with a believed gloss reading.
    days_since_last : since the last of them; not looked at when there is none.
    looked_at : whether there are appearance grades.

    >>> evidence_of(4, 120, False).value, evidence_of(4, 121, False).value
    ('measured', 'sparse')

    Assumption: the limits above, to be set by measured forecast errors of each class.
    """
    if rounds >= MEASURED_ROUNDS and days_since_last <= MEASURED_WITHIN_DAYS:
        return EvidenceClass.MEASURED
    if rounds >= 1:
        return EvidenceClass.SPARSE
    return EvidenceClass.LOOKED_AT if looked_at else EvidenceClass.ASSUMED


def evidence_classes(fit: Fit, looked_at: Flags) -> tuple[EvidenceClass, ...]:
    """The evidence class of every zone of a fit; readings thought gross do not count.

    Parameters
    ----------
    looked_at : (Z,), whether the zone has appearance grades.

    Assumption: as `evidence_of`.
    """
    since = fit.columns.days - 1 - fit.last_day
    return tuple(
        evidence_of(rounds, days, graded)
        for rounds, days, graded in zip(
            fit.rounds.tolist(), since.tolist(), looked_at.tolist(), strict=True
        )
    )
