"""Lines of visits taken as treatments, for a floor looked at ahead."""

from collections.abc import Iterable
from datetime import date

from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.visit import Visit


def as_treatments(
    visits: Iterable[Visit], zone: tuple[str, str], zone_m2: float | None, today: date
) -> tuple[TreatmentDone, ...]:
    """A zone's lines of visits from today on, as if they were done on their nights.

    zone : site and code.
    zone_m2 : the zone's area, None where nobody measured it.
    """
    return tuple(
        TreatmentDone(
            work=line.work,
            done_on=visit.night,
            share=share_treated(line.area_m2, zone_m2),
            visit=visit.uuid,
        )
        for visit in visits
        if visit.site == zone[0] and visit.night >= today
        for line in visit.lines
        if line.zone == zone[1]
    )


def share_treated(part_m2: float | None, zone_m2: float | None) -> float:
    """Share of a zone that a line treats, above 0 up to 1."""
    if part_m2 is None or zone_m2 is None:
        return 1.0  # nobody measured it, so nobody can say it was only a part
    return min(1.0, max(0.001, part_m2 / zone_m2))
