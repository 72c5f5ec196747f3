from dataclasses import replace

from floorcare.ground.schedule.answers import SiteAnswers
from floorcare.ground.schedule.gather import LATE_DAYS
from floorcare.ground.schedule.uprooted import on_another_night
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_night, nights_of
from tests.ground.schedule.stood import NIGHT, a_visit, due_about


def nights(*days: int, answers: SiteAnswers = SiteAnswers(), **more: object):  # noqa: B008
    found = nights_of([a_night(TODAY + d * DAY) for d in days], **more)
    return replace(found, answers=answers)


def test_the_nearest_night_of_the_window_takes_the_whole_visit() -> None:
    visit = a_visit(due_about(), due_about(work=Work.BURNISH, zone="EDGE"))
    stub = on_another_night(visit, nights(9, 12, 17, 21), set())
    assert stub is not None
    assert stub.night.on == TODAY + 17 * DAY
    assert stub.lines == visit.lines
    assert (stub.earliest, stub.latest) == (NIGHT - 7 * DAY, NIGHT + 7 * DAY)
    assert stub.minutes == visit.minutes


def test_nights_taken_too_short_or_that_do_not_permit_it_are_passed_over() -> None:
    visit = a_visit(due_about(needs={"wet"}))
    site = nights(14, 16, 17)
    dry = replace(site.nights[1], permits=frozenset({"loud"}))
    site = replace(site, nights=(site.nights[0], dry, site.nights[2]))
    stub = on_another_night(visit, site, {TODAY + 14 * DAY})
    assert stub is not None
    assert stub.night.on == TODAY + 17 * DAY
    assert on_another_night(visit, nights(14, visit_minutes=179), set()) is None


def test_a_counter_night_comes_before_a_nearer_one_and_a_refused_one_never() -> None:
    offered = TODAY + 9 * DAY
    answers = SiteAnswers(
        offered=frozenset({(offered, "LANE", Work.RECOAT)}),
        refused=frozenset({(TODAY + 16 * DAY, "LANE")}),
    )
    stub = on_another_night(a_visit(), nights(9, 16, 18, answers=answers), set())
    assert stub is not None
    assert stub.night.on == offered
    without = replace(answers, offered=frozenset())
    stub = on_another_night(a_visit(), nights(9, 16, 18, answers=without), set())
    assert stub is not None
    assert stub.night.on == TODAY + 18 * DAY


def test_a_late_counter_night_waits_behind_every_night_of_the_window() -> None:
    late = NIGHT + 8 * DAY
    answers = SiteAnswers(offered=frozenset({(late, "LANE", Work.RECOAT)}))
    stub = on_another_night(a_visit(), nights(9, 23, 24, answers=answers), set())
    assert stub is not None
    assert stub.night.on == TODAY + 9 * DAY
    stub = on_another_night(a_visit(), nights(23, 24, answers=answers), set())
    assert stub is not None
    assert stub.night.on == late


def test_where_the_window_is_over_it_comes_late_is_pinned_and_marked_and_at_last_nowhere() -> None:
    late = (NIGHT - TODAY).days + 7 + LATE_DAYS
    stub = on_another_night(a_visit(), nights(late), set())
    assert stub is not None
    assert stub.earliest == stub.latest == stub.night.on
    assert all(line.due.recheck for line in stub.lines)
    assert on_another_night(a_visit(), nights(late + 1), set()) is None
