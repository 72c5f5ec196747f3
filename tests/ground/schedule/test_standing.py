from collections.abc import Sequence
from dataclasses import replace

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.schedule.answers import SiteAnswers
from floorcare.ground.schedule.gather import SiteNights, Stub, gather
from floorcare.ground.schedule.standing import EDGE_DAYS, kept_site
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit, VisitLine
from tests.builders import (
    ALL_PERMITS,
    DAY,
    TODAY,
    a_book,
    a_case,
    a_due,
    a_line,
    a_night,
    nights_of,
    polished,
)

END = 90
KEY = ("NORTH", "LANE")


def nights(shut: int | None = None, **more: object) -> SiteNights:
    days = [n for n in range(1, 121) if n != shut]
    return nights_of([a_night(TODAY + n * DAY) for n in days], **more)  # type: ignore[arg-type]


def due(
    days: int, work: Work = Work.RECOAT, rule: str = "promise at confidence", **more: int
) -> Due:
    target = TODAY + days * DAY
    return a_due(
        work,
        rule=rule,
        earliest=target - 5 * DAY,
        target=target,
        latest=target + 3 * DAY,
        **more,  # type: ignore[arg-type]
    )


def reading(days: int) -> Due:
    return due(days, Work.READING_ROUND, "reading round", minutes=7)


def visits_for(*dues: Due) -> tuple[Visit, ...]:
    stubs, _ = gather(dues, nights(), {"LANE": polished()})
    return tuple(
        Visit(
            uuid=f"v{n}",
            site="NORTH",
            night=stub.night.on,
            starts_minute=stub.night.starts_minute,
            minutes=stub.minutes,
            people=2,
            lines=stub.lines,
        )
        for n, stub in enumerate(stubs)
    )


def kept(
    owed: Sequence[Due],
    visits: Sequence[Visit],
    *,
    site: SiteNights | None = None,
    planned: bool = True,
    by_wear: bool = True,
    case: ZoneCase | None = None,
) -> tuple[tuple[Stub, ...], tuple[Due, ...]] | None:
    return kept_site(
        [case or a_case(a_book(), days=END)],
        {KEY: tuple(owed)},
        {KEY} if by_wear else set(),
        visits,
        site or nights(),
        TODAY + END * DAY if planned else None,
    )


STANDING = (due(30), reading(50))


def test_visits_that_answer_all_that_is_due_stand_as_they_are_and_nothing_is_added() -> None:
    visits = visits_for(*STANDING)
    found = kept(STANDING, visits)
    assert found is not None
    stubs, added = found
    assert added == ()
    assert [(s.night.on, s.lines, s.minutes) for s in stubs] == [
        (v.night, v.lines, v.minutes) for v in visits
    ]
    assert all(s.earliest == s.latest == s.night.on for s in stubs)


def test_a_first_plan_has_nothing_to_keep() -> None:
    assert kept(STANDING, visits_for(*STANDING), planned=False) is None
    assert kept(STANDING, ()) is None


def test_a_visit_whose_night_is_shut_moves_alone_and_whole() -> None:
    visits = visits_for(*STANDING)
    gone = (visits[0].night - TODAY).days
    found = kept(STANDING, visits, site=nights(shut=gone))
    assert found is not None
    (stays, moves), added = found
    assert added == ()
    assert (stays.night.on, stays.lines) == (visits[1].night, visits[1].lines)
    assert moves.night.on == visits[0].night - DAY
    assert moves.lines == visits[0].lines
    assert (moves.earliest, moves.latest) == (TODAY + 25 * DAY, TODAY + 33 * DAY)


def test_a_visit_on_a_refused_night_moves_alone_to_a_counter_night() -> None:
    visits = visits_for(*STANDING)
    offer = TODAY + 33 * DAY
    answers = SiteAnswers(
        refused=frozenset({(visits[0].night, "LANE")}),
        offered=frozenset({(offer, "LANE", Work.RECOAT)}),
    )
    found = kept(STANDING, visits, site=replace(nights(), answers=answers))
    assert found is not None
    assert [stub.night.on for stub in found[0]] == [visits[1].night, offer]
    assert found[1] == ()


def test_a_visit_no_night_takes_whole_has_its_work_gathered_anew_and_a_part_the_whole_site() -> (
    None
):
    both = (due(30), due(30, Work.BURNISH, "set rhythm", minutes=70), reading(50))
    one = replace(visits_for(both[0])[0], uuid="both")
    joined = replace(one, lines=(*one.lines, a_line(both[1])), minutes=200)
    last = visits_for(both[2])[0]
    short = nights(visit_minutes=150)
    found = kept(both, (joined, last), site=short)
    assert found is not None
    assert [stub.night.on for stub in found[0]] == [last.night]
    assert {due.work for due in found[1]} == {Work.RECOAT, Work.BURNISH}
    part = replace(joined, lines=(replace(one.lines[0], minutes=30),))
    assert kept(both, (part, last), site=short) is None


def test_nights_that_take_no_visit_any_more_plan_the_site_anew() -> None:
    visits = visits_for(*STANDING)
    assert kept(STANDING, visits, site=nights(people=3)) is None
    loud = (replace(STANDING[0], needs=frozenset({"loud"})), STANDING[1])
    quiet = replace(
        nights(), nights=tuple(replace(n, permits=frozenset()) for n in nights().nights)
    )
    assert kept(loud, visits_for(*loud), site=quiet) is None
    assert kept(loud, visits_for(*loud)) is not None


def test_new_work_inside_the_horizon_plans_the_site_anew_and_beyond_it_is_added() -> None:
    visits = visits_for(*STANDING)
    assert kept((*STANDING, due(60, Work.CLEAN, "set rhythm")), visits) is None
    later = due(END + 5, Work.CLEAN, "set rhythm")
    found = kept((*STANDING, later), visits)
    assert found is not None
    assert found[1] == (later,)
    walked = due(END + 10)
    found = kept((*STANDING, walked), visits)
    assert found is not None
    assert found[1] == (walked,)


def test_a_harder_rung_that_stands_in_the_window_answers_a_milder_due() -> None:
    rhythm = due(31, Work.BURNISH, "set rhythm")
    assert kept((*STANDING, rhythm), visits_for(*STANDING)) is not None
    far = due(60, Work.BURNISH, "set rhythm")
    assert kept((*STANDING, far), visits_for(*STANDING)) is None


def test_work_no_longer_due_and_work_due_much_earlier_plan_the_site_anew() -> None:
    visits = visits_for(*STANDING)
    assert kept((STANDING[1],), visits) is None
    assert kept((due(14), STANDING[1]), visits) is None
    assert kept((due(34), STANDING[1]), visits) is not None
    assert kept((STANDING[0],), visits) is None  # the reading round is wanted no more


def test_a_calendar_work_may_stand_a_little_off_its_date_and_not_far_off() -> None:
    (visit,) = visits_for(reading(50))
    assert kept((reading(56),), (visit,), by_wear=False) is None
    inside = reading(52)
    assert kept((inside,), (visit,), by_wear=False) is not None
    gone = reading(50 + 100)
    assert kept((gone,), (visit,), by_wear=False) is None


def test_a_guard_takes_gloss_work_off_a_site_that_stood() -> None:
    visits = visits_for(*STANDING)
    guard = (
        due(1, Work.CLEAN, "slip guard"),
        due(1, Work.SLIP_TEST, "slip guard"),
        STANDING[1],
    )
    assert kept(guard, visits) is None


def test_what_has_no_night_at_all_is_told_again_but_moves_nothing() -> None:
    visits = visits_for(*STANDING)
    lost = due(40, Work.REPOLISH, "set rhythm", minutes=100_000)
    found = kept((*STANDING, lost), visits)
    assert found is not None
    assert found[1] == (lost,)


def test_without_walked_work_standing_the_horizon_s_edge_is_left_open() -> None:
    visits = visits_for(reading(50))
    at_edge = due(END - EDGE_DAYS + 1)
    found = kept((reading(50), at_edge), visits)
    assert found is not None
    assert found[1] == (at_edge,)
    assert kept((reading(50), due(END - EDGE_DAYS)), visits) is None


def test_a_visit_to_a_zone_no_longer_cared_for_plans_the_site_anew() -> None:
    (visit,) = visits_for(STANDING[0])
    line: VisitLine = replace(visit.lines[0], zone="GONE")
    assert kept((STANDING[0],), (replace(visit, lines=(line,)),)) is None
    assert visit.lines[0].due.needs <= ALL_PERMITS
