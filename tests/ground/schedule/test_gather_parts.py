"""Works too long for one night: where their parts may lie, and what they do for others."""

from datetime import date

from floorcare.ground.schedule.gather import SiteNights, gather
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import line_minutes
from tests.builders import DAY, TODAY, a_due, a_night, nights_of, polished

SURFACES = {"LANE": polished()}


def ahead(days: int) -> date:
    return TODAY + days * DAY


def open_nights(count: int, minutes: int) -> SiteNights:
    return nights_of([a_night(ahead(n + 1), minutes) for n in range(count)])


def test_no_part_comes_before_the_earliest_night() -> None:
    whole = line_minutes(polished().methods[Work.REPOLISH], 300.0).minutes
    due = a_due(Work.REPOLISH, minutes=whole, area_m2=300.0, earliest=ahead(10), target=ahead(11))
    stubs, unplaced = gather([due], open_nights(30, 300), SURFACES)
    assert unplaced == ()
    assert len(stubs) > 2
    assert min(stub.night.on for stub in stubs) >= ahead(10)


def test_a_part_of_a_harder_rung_does_not_do_the_whole_zone_s_milder_one() -> None:
    whole = line_minutes(polished().methods[Work.REPOLISH], 300.0).minutes
    harder = a_due(Work.REPOLISH, minutes=whole, area_m2=300.0, earliest=ahead(1), target=ahead(1))
    nights = nights_of([a_night(ahead(n + 1), 420) for n in range(30)])
    milder = a_due(Work.BURNISH, minutes=10, area_m2=20.0, earliest=ahead(1), target=ahead(2))
    stubs, _ = gather([harder, milder], nights, SURFACES)
    assert any(line.work is Work.BURNISH for stub in stubs for line in stub.lines)


def test_one_long_night_far_off_does_not_keep_a_work_whole() -> None:
    whole = line_minutes(polished().methods[Work.REPOLISH], 90.0).minutes
    due = a_due(Work.REPOLISH, minutes=whole, area_m2=90.0, earliest=ahead(1), target=ahead(12))
    short = [a_night(ahead(n + 1), 300) for n in range(20)]
    stubs, unplaced = gather([due], nights_of([*short, a_night(ahead(200), 480)]), SURFACES)
    assert unplaced == ()
    assert len(stubs) > 1
    assert max(stub.night.on for stub in stubs) <= ahead(12)
