from dataclasses import replace

from floorcare.ground.schedule.answers import SiteAnswers
from floorcare.ground.schedule.gather import LATE_DAYS, Stub
from floorcare.ground.schedule.stay import may_stay
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit, VisitLine
from tests.builders import DAY, TODAY, a_due, a_line, a_night, nights_of

SITE = nights_of([a_night(TODAY + n * DAY) for n in range(1, 121)])
RULE = "promise at confidence"


def line(target: int, *, rule: str = RULE, work: Work = Work.RECOAT, late: bool = False):
    due = a_due(
        work,
        rule=rule,
        earliest=TODAY + (target - 5) * DAY,
        target=TODAY + target * DAY,
        latest=TODAY + (target + 3) * DAY,
    )
    return a_line(replace(due, recheck=late))


def stub(night: int, *lines: VisitLine) -> Stub:
    return Stub(
        site="NORTH",
        night=a_night(TODAY + night * DAY),
        lines=lines,
        earliest=max(one.due.earliest for one in lines),
        latest=min(one.due.latest for one in lines),
        minutes=60,
    )


def visit(night: int, *lines: VisitLine) -> Visit:
    return Visit(
        uuid=f"v{night}",
        site="NORTH",
        night=TODAY + night * DAY,
        starts_minute=1320,
        minutes=60,
        people=2,
        lines=lines,
    )


def stays(stubs: list[Stub], visits: list[Visit], site=SITE) -> list[int] | None:
    """Days from today to the nights that stay."""
    found = may_stay(stubs, visits, site)
    return None if found is None else [(one.night.on - TODAY).days for one in found]


def test_a_visit_stays_on_another_night_of_its_window_and_is_drawn_nowhere():
    assert stays([stub(30, line(30))], [visit(27, line(30))]) == [27]


def test_what_stays_is_fixed_to_its_night_with_the_lines_it_had():
    had = line(29)
    (kept,) = may_stay([stub(30, line(30))], [visit(28, had)], SITE)
    assert kept.earliest == kept.latest == TODAY + 28 * DAY
    assert kept.lines == (had,)


def test_a_visit_after_the_fresh_latest_night_does_not_stay():
    assert stays([stub(30, line(30))], [visit(34, line(36))]) is None


def test_work_that_was_placed_late_for_want_of_crews_is_left_there():
    assert stays([stub(30, line(30))], [visit(40, line(30, late=True))]) == [40]
    too_late = 33 + LATE_DAYS + 1
    assert stays([stub(30, line(30))], [visit(too_late, line(30, late=True))]) is None


def test_urgent_work_that_is_late_tries_for_an_earlier_night():
    guard = {"rule": "slip guard", "work": Work.CLEAN}
    assert stays([stub(30, line(30, **guard))], [visit(40, line(30, late=True, **guard))]) is None


def test_other_work_or_other_minutes_do_not_stay():
    assert stays([stub(30, line(30), line(30, work=Work.BURNISH))], [visit(30, line(30))]) is None
    longer = replace(line(30), minutes=line(30).minutes + 1)
    assert stays([stub(30, longer)], [visit(30, line(30))]) is None
    assert stays([], [visit(30, line(30))]) is None


def test_works_that_crews_did_on_two_nights_need_not_go_together_again():
    works = line(30), line(30, work=Work.BURNISH)
    assert stays([stub(30, *works)], [visit(29, works[0]), visit(31, works[1])]) == [29, 31]


def test_a_visit_that_lost_its_night_does_not_stay():
    shut = nights_of([night for night in SITE.nights if night.on != TODAY + 27 * DAY])
    assert stays([stub(30, line(30))], [visit(27, line(30))], shut) is None


def test_a_counter_night_the_customer_offered_is_taken():
    offered = frozenset({(TODAY + 30 * DAY, "LANE", Work.RECOAT)})
    site = replace(SITE, answers=SiteAnswers(offered=offered))
    assert stays([stub(30, line(30))], [visit(29, line(30))], site) is None
    assert stays([stub(30, line(30))], [visit(30, line(30))], site) == [30]
