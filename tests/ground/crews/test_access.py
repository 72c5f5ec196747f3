from dataclasses import replace
from datetime import UTC, datetime

from floorcare.ground.crews.access import access_of, why_no_access
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import needs_of
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow
from tests.builders import WEEKNIGHTS, a_due, a_line
from tests.ground.crews.weeks import TUESDAY, a_place, a_visit


def wanting(*needs: str):
    due = a_due(Work.BURNISH, target=TUESDAY, needs=frozenset(needs))
    return replace(a_visit(), lines=(a_line(due), *a_visit().lines))


def site(*permits: frozenset[str]):
    windows = tuple(
        AccessWindow(
            weekdays=WEEKNIGHTS, starts_minute=1080 + 240 * n, ends_minute=1320 + 200 * n, permits=p
        )
        if n == 0
        else AccessWindow(weekdays=WEEKNIGHTS, starts_minute=1320, ends_minute=360, permits=p)
        for n, p in enumerate(permits)
    )
    return a_place(windows=windows).site


def test_a_visit_needs_what_any_of_its_lines_needs():
    assert needs_of(wanting("loud", "wet").lines) == {"loud", "wet"}
    assert needs_of(a_visit().lines) == frozenset()


def test_only_stretches_that_permit_the_work_are_open_to_it():
    two = site(frozenset({"loud"}), frozenset({"wet", "fuel machine"}))
    opens = datetime(2026, 3, 3, 23, 0, tzinfo=UTC)
    closes = datetime(2026, 3, 4, 3, 0, tzinfo=UTC)
    (loud,) = access_of(wanting("loud"), two)
    assert (loud.opens_at, loud.closes_at, loud.fuel) == (opens, closes, False)
    (wet,) = access_of(wanting("wet"), two)
    assert (wet.opens_at, wet.fuel) == (closes, True)
    assert len(access_of(wanting(), two)) == 2


def test_why_a_visit_is_let_in_nowhere_is_said():
    one = site(frozenset({"loud"}))
    assert access_of(wanting("wet", "loud"), one) == ()
    assert why_no_access(wanting("wet", "loud"), one) == "no access that permits loud, wet work"
    shut = replace(one, shut_days=(ShutDay(from_on=TUESDAY, to_on=TUESDAY, why="fair"),))
    assert why_no_access(wanting("loud"), shut) == "shut: fair"


def test_a_public_holiday_is_shut_where_the_site_keeps_it():
    keeps = replace(a_place().site, country="US")
    visit = replace(a_visit(), night=datetime(2026, 7, 3, tzinfo=UTC).date())
    assert access_of(visit, keeps) == ()
    assert "public holiday" in why_no_access(visit, keeps)
    assert access_of(visit, replace(keeps, holidays="worked")) != ()
