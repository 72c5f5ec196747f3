"""Sites that never close, polished in sections.

Source: forconstructionpros.com 10117047, an occupied 24-hour store, read as an excerpt: the floor
is split into sections, each cleared before and restored after its own part of the work, and
isolated for 1 h after the densifier.
"""

from dataclasses import replace

import pytest

from floorcare.ground.schedule.closings import visit_closings
from floorcare.ground.schedule.gather import gather
from floorcare.ground.trade.site import Area
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit
from floorcare.ground.work.minutes import line_minutes
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_due,
    a_night,
    a_site_book,
    a_zone,
    nights_of,
    polished,
)

WINDOW_MINUTES = 240
"""A store open day and night leaves four quiet hours."""
SURFACES = {"polished_concrete": polished()}


@pytest.mark.parametrize("work", [Work.REPOLISH, Work.FULL_RESTORATION, Work.DENSIFY])
def test_a_floor_too_large_for_its_window_is_done_in_sections_each_reopened_in_time(
    work: Work,
) -> None:
    area_m2 = {Work.REPOLISH: 60.0, Work.FULL_RESTORATION: 8.0, Work.DENSIFY: 3000.0}[work]
    rung = polished().methods[work]
    due = a_due(
        work,
        earliest=TODAY + DAY,
        target=TODAY + 20 * DAY,
        latest=TODAY + 20 * DAY,
        minutes=line_minutes(rung, area_m2).minutes,
        area_m2=area_m2,
        needs=rung.needs,
    )
    site = nights_of([a_night(TODAY + n * DAY, WINDOW_MINUTES) for n in range(1, 30)])
    stubs, unplaced = gather([due], site, {"LANE": polished()})
    if work is Work.FULL_RESTORATION:
        # its waits alone outlast four hours: no section however small would fit, and it is said
        assert stubs == ()
        (left,) = unplaced
        assert "min" in left.why
        return
    assert unplaced == ()
    assert len(stubs) > 1
    nights = [stub.night.on for stub in stubs]
    assert nights == [nights[0] + n * DAY for n in range(len(nights))]
    assert nights[-1] == TODAY + 20 * DAY
    sections = [line.area_m2 for stub in stubs for line in stub.lines]
    assert sum(a for a in sections if a) == pytest.approx(area_m2, rel=0.01)
    book = a_site_book("NORTH", a_book(zone=a_zone(area_m2=area_m2)))
    book = replace(book, areas=(Area(code="HALL", name="Hall B"),))
    for stub in stubs:
        visit = Visit(
            uuid="section",
            site="NORTH",
            night=stub.night.on,
            starts_minute=stub.night.starts_minute,
            minutes=stub.minutes,
            people=2,
            lines=stub.lines,
        )
        (closing,) = visit_closings(visit, book, SURFACES)
        assert closing.reopens_minute <= stub.night.ends_minute


def test_every_densifier_we_lay_is_followed_by_an_hour_of_isolation() -> None:
    for rung in polished().methods.values():
        names = [step.product for step in rung.steps]
        if "densifier" in names:
            taken_up = rung.steps[names.index("densifier") + 1]
            assert taken_up.wait_minutes == 60
