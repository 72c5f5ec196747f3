"""Dues in and out of the store: each belongs to the plan that made it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row

from floorcare.errors import NotKnown
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.store.texts import reason_of, reason_text, words_of, words_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Ids of sites by code, and of zones by their site's id and own code."""

    sites: Mapping[str, int]
    zones: Mapping[tuple[int, str], int]

    def site(self, code: str) -> int:
        """The site's id.

        Raises
        ------
        NotKnown : there is no such site.
        """
        if code not in self.sites:
            raise NotKnown("there is no such site", where=f"site {code}")
        return self.sites[code]

    def zone(self, site: str, code: str) -> int | None:
        """The zone's id, None for work on the site as a whole.

        Raises
        ------
        NotKnown : there is no such zone.
        """
        if not code:
            return None
        found = self.zones.get((self.site(site), code))
        if found is None:
            raise NotKnown("there is no such zone", where=f"zone {site}/{code}")
        return found


def due_from_row(row: Row[Any]) -> Due:
    """The due of a row that carries the codes of its site and zone."""
    return Due(
        site=row.site,
        zone=row.zone or "",
        work=Work(row.work),
        earliest=row.earliest,
        target=row.target,
        latest=row.latest,
        minutes=row.minutes,
        area_m2=row.area_m2,
        needs=words_of(row.needs),
        reason=reason_of(row.reason),
        recheck=row.recheck,
    )


def due_row(due: Due, plan_id: int, places: Places) -> dict[str, Any]:
    """The row of a due that a plan made; unplaced until a line takes it."""
    return {
        "plan_id": plan_id,
        "site_id": places.site(due.site),
        "zone_id": places.zone(due.site, due.zone),
        "work": due.work.value,
        "earliest": due.earliest,
        "target": due.target,
        "latest": due.latest,
        "minutes": due.minutes,
        "area_m2": due.area_m2,
        "needs": words_text(due.needs),
        "reason": reason_text(due.reason),
        "recheck": due.recheck,
        "unplaced_why": None,
        "unplaced_mend": None,
    }
