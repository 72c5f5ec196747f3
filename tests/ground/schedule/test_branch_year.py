from dataclasses import replace
from datetime import date
from functools import lru_cache

import pytest

from floorcare.ground.schedule.branch_year import (
    BranchYear,
    Decision,
    decide_branch,
    site_nights,
    site_time,
    survey_branch,
)
from floorcare.ground.schedule.difference import Difference, difference
from floorcare.ground.schedule.place import night_capacity
from floorcare.ground.schedule.travel import UNKNOWN_MINUTES
from floorcare.ground.trade.book import SiteBook, TreatmentDone
from floorcare.ground.trade.promise import Policy
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, ChangeKind, Visit, VisitState
from floorcare.ground.worktime.shut import ShutDay
from tests.builders import (
    BEGUN,
    DAY,
    TODAY,
    a_book,
    a_branch,
    a_site_book,
    a_zone,
    look_promised,
    polished,
    read_down,
    routinely,
)
from tests.store.sample import INSTALLATION, LATER, NOW

DAYS = 100


def two_zones(code: str, **site: object) -> SiteBook:
    lane = a_book("LANE", readings=read_down(49.5))
    edge = a_book("EDGE", readings=read_down(55.0, fall=0.3))
    return a_site_book(code, lane, edge, **site)


def a_year(*books: SiteBook, branch: dict[str, object] | None = None, **more: object) -> BranchYear:
    own = {"standing": (), "today": TODAY, "last_on": TODAY + DAYS * DAY, **more}
    return BranchYear(
        branch=a_branch(**{"crews": 4, **(branch or {})}),
        books=books,
        surfaces={"polished_concrete": polished()},
        **own,  # type: ignore[arg-type]
    )


def compare(decision: Decision, known: tuple[Visit, ...] = ()) -> Difference:
    return difference(
        decision.stubs,
        decision.movable,
        people=decision.people,
        installation=INSTALLATION,
        known={visit.uuid for visit in known},
        now=LATER if known else NOW,
    )


@lru_cache(maxsize=1)
def usual() -> tuple[BranchYear, Decision, tuple[Visit, ...]]:
    """Two sites, their first plan, and its visits."""
    year = a_year(two_zones("NORTH"), two_zones("SOUTH"))
    decision = decide_branch(year)
    return year, decision, compare(decision).altered


def planned(year: BranchYear, visits: tuple[Visit, ...]) -> BranchYear:
    return replace(year, standing=visits, planned_to=year.last_on)


def with_shut(book: SiteBook, *days: date) -> SiteBook:
    shut = tuple(ShutDay(from_on=day, to_on=day, why="inventory") for day in days)
    return replace(book, site=replace(book.site, shut_days=shut))


def test_every_visit_is_on_an_open_night_of_its_site_and_nothing_is_over_capacity() -> None:
    year, decision, _ = usual()
    assert len({stub.site for stub in decision.stubs}) == 2
    assert len(decision.stubs) >= 4
    for book in year.books:
        nights = site_nights(year, book)
        for stub in decision.stubs:
            if stub.site == book.site.code:
                assert stub.night in nights.nights
                assert stub.minutes <= nights.room(stub.night)
    assert decision.unplaced == ()
    assert decision.findings == ()
    assert decision.over_before == decision.over_after == 0


def test_deciding_twice_gives_the_same_decision() -> None:
    year, decision, _ = usual()
    assert decide_branch(year) == decision


def test_the_plan_that_stands_is_kept_the_same_day() -> None:
    year, _, visits = usual()
    again = decide_branch(planned(year, visits))
    assert compare(again, visits).empty


@pytest.mark.parametrize("later", [1, 7])
def test_the_plan_that_stands_is_kept_on_a_later_day_on_which_nothing_new_is_known(
    later: int,
) -> None:
    year, _, visits = usual()
    today = TODAY + later * DAY
    still = tuple(v for v in visits if v.night >= today)
    found = compare(decide_branch(replace(planned(year, still), today=today)), visits)
    assert {change.kind for change in found.changes} == {ChangeKind.KEPT}


def test_a_moved_shut_day_changes_only_its_site_and_keeps_identities_with_sequence_raised() -> None:
    year, decision, visits = usual()
    north, south = year.books
    gone = next(visit.night for visit in visits if visit.site == "NORTH")
    shut = planned(replace(year, books=(with_shut(north, gone), south)), visits)
    after = decide_branch(shut)
    before_south = [stub for stub in decision.stubs if stub.site == "SOUTH"]
    assert [(s.night, s.lines) for s in after.stubs if s.site == "SOUTH"] == [
        (s.night, s.lines) for s in before_south
    ]
    found = compare(after, visits)
    assert {visit.site for visit in found.altered} == {"NORTH"}
    known = {visit.uuid: visit for visit in visits}
    moved = [v for v in found.altered if v.uuid in known and v.night != known[v.uuid].night]
    assert any(known[v.uuid].night == gone for v in moved)
    assert all(v.sequence == known[v.uuid].sequence + 1 for v in moved)
    assert gone not in {stub.night.on for stub in after.stubs if stub.site == "NORTH"}
    # and the shut day lifted again, nothing is left to do
    lifted = tuple({**known, **{v.uuid: v for v in found.altered}}.values())
    standing = tuple(v for v in lifted if v.state is not VisitState.CANCELLED)
    assert compare(decide_branch(planned(shut, standing)), lifted).empty


def test_without_a_plan_a_shut_day_changes_only_its_site_as_well() -> None:
    year, decision, visits = usual()
    north, south = year.books
    gone = next(visit.night for visit in visits if visit.site == "NORTH")
    after = decide_branch(replace(year, books=(with_shut(north, gone), south)))
    assert [s for s in after.stubs if s.site == "SOUTH"] == [
        s for s in decision.stubs if s.site == "SOUTH"
    ]
    assert [s for s in after.stubs if s.site == "NORTH"] != [
        s for s in decision.stubs if s.site == "NORTH"
    ]


def test_another_site_in_the_branch_moves_nothing_where_crews_are_enough() -> None:
    year, decision, _ = usual()
    alone = decide_branch(replace(year, books=year.books[:1]))
    assert alone.stubs == tuple(s for s in decision.stubs if s.site == "NORTH")
    assert alone.outlooks == tuple(o for o in decision.outlooks if o.site == "NORTH")


def test_a_shut_year_gives_a_finding_and_no_visit() -> None:
    year, decision, _ = usual()
    north, south = year.books
    shut = ShutDay(from_on=TODAY, to_on=TODAY + 500 * DAY, why="refurbishment")
    closed = replace(north, site=replace(north.site, shut_days=(shut,)))
    after = decide_branch(replace(year, books=(closed, south)))
    assert {stub.site for stub in after.stubs} == {"SOUTH"}
    (finding,) = after.findings
    assert "site NORTH has no night open to branch EAST" in finding.problem
    assert finding.value == "shut: refurbishment"
    assert finding.weight == "asks"
    assert {u.due.site for u in after.unplaced} == {"NORTH"}
    assert all("no night is open" in u.why for u in after.unplaced)
    assert [s for s in after.stubs if s.site == "SOUTH"] == [
        s for s in decision.stubs if s.site == "SOUTH"
    ]


def failing_site() -> SiteBook:
    """A fine burnish ten days ago did not bring the look back: a coat is due at once."""
    done = (TreatmentDone(work=Work.FINE_BURNISH, done_on=TODAY - 10 * DAY),)
    return a_site_book("NORTH", a_book(readings=read_down(46.0, fall=1.2), done=done))


def recoats(decision: Decision) -> list[date]:
    return [s.night.on for s in decision.stubs for p in s.lines if p.work is Work.RECOAT]


@pytest.mark.parametrize(
    "firm",
    [
        {"agreement": Agreement.AGREED, "night": TODAY + 3 * DAY},
        {"state": VisitState.HELD, "night": TODAY + 3 * DAY},
        {"night": TODAY},
        {"night": TODAY, "state": VisitState.STARTED},
    ],
)
def test_what_stands_or_is_on_its_way_tonight_is_neither_moved_nor_planned_again(
    firm: dict[str, object],
) -> None:
    year = a_year(failing_site(), last_on=TODAY + 40 * DAY)
    (visit, *others) = compare(decide_branch(year)).altered
    assert visit.lines[0].work is Work.RECOAT
    stands = replace(visit, **firm)  # type: ignore[arg-type]
    after = decide_branch(planned(year, (stands, *others)))
    assert stands not in after.movable
    assert recoats(after) == []
    assert visit.uuid not in {v.uuid for v in compare(after, (visit, *others)).altered}


def test_a_visit_that_stands_takes_its_crew_s_minutes() -> None:
    one_crew = {"crews": 1, "reserve_share": 0.0}
    year = a_year(two_zones("NORTH"), two_zones("SOUTH"), branch=one_crew)
    visits = compare(decide_branch(year)).altered
    night = min(visit.night for visit in visits)
    full = replace(
        next(v for v in visits if v.site == "NORTH"),
        night=night,
        minutes=480 - 2 * UNKNOWN_MINUTES,
        agreement=Agreement.AGREED,
    )
    after = decide_branch(planned(year, (full,)))
    assert night not in {stub.night.on for stub in after.stubs}


def burnished_by(
    who: Performer, minutes: int, rule: str = "FREQ=WEEKLY;BYDAY=TU,FR"
) -> tuple[SiteBook, ...]:
    burnish = routinely(Work.BURNISH, rule, by=who, minutes=minutes)
    return tuple(
        a_site_book(code, a_book(readings=read_down(49.0), routines=(burnish,)))
        for code in ("A", "B", "C", "D")
    )


def test_one_crew_is_never_asked_for_more_than_its_night() -> None:
    tight = {"crews": 1, "shift_minutes": 300}
    year = a_year(*burnished_by(Performer.SITE_TEAM, 60), branch=tight)
    decision = decide_branch(year)
    total: dict[date, int] = {}
    for stub in decision.stubs:
        load = stub.minutes + 2 * UNKNOWN_MINUTES
        total[stub.night.on] = total.get(stub.night.on, 0) + load
    assert max(total.values()) <= night_capacity(year.branch, TODAY)
    assert decision.over_before > 0
    assert decision.over_after == 0


def test_our_own_standing_rounds_take_their_crew_s_minutes() -> None:
    tight = {"crews": 1, "shift_minutes": 480, "reserve_share": 0.0}
    nights = "FREQ=WEEKLY;BYDAY=MO,TH"
    year = a_year(*burnished_by(Performer.US, 220, nights), branch=tight)
    decision = decide_branch(year)
    # four sites by two people are 440 minutes, and 40 are no visit
    assert decision.stubs
    assert not {stub.night.on.weekday() for stub in decision.stubs} & {0, 3}
    theirs = decide_branch(a_year(*burnished_by(Performer.SITE_TEAM, 220, nights), branch=tight))
    assert {stub.night.on.weekday() for stub in theirs.stubs} & {0, 3}


@pytest.mark.parametrize("area_m2", [1250.0, 1300.0, 2600.0])
def test_work_that_fits_the_shift_but_not_the_reserve_is_shared_over_nights(
    area_m2: float,
) -> None:
    habit = routinely(Work.RECOAT, "FREQ=YEARLY", starts_on=date(2025, 3, 20))
    book = a_book(zone=a_zone(area_m2=area_m2), routines=(habit,), readings=(), promises=())
    year = a_year(a_site_book("NORTH", book), branch={"crews": 1})
    decision = decide_branch(year)
    assert decision.unplaced == ()
    lines = [line for stub in decision.stubs for line in stub.lines]
    assert sum(line.area_m2 or 0.0 for line in lines) == pytest.approx(area_m2, rel=0.01)
    for stub in decision.stubs:
        assert stub.minutes + 2 * UNKNOWN_MINUTES <= night_capacity(year.branch, stub.night.on)


def test_thanksgiving_is_not_worked_and_the_night_before_it_ends_at_midnight() -> None:
    thanksgiving = date(2026, 11, 26)  # the fourth Thursday of November
    year = a_year(two_zones("NORTH"), last_on=date(2026, 12, 31))
    book = year.books[0]
    on = {night.on: night for night in site_nights(year, book).nights}
    assert thanksgiving not in on
    assert on[thanksgiving - DAY].minutes == 120
    assert on[thanksgiving + DAY].minutes == 480
    assert "Thanksgiving" in site_time(year, book).why_closed(thanksgiving)
    worked = replace(book, site=replace(book.site, holidays="worked"))
    assert thanksgiving in {night.on for night in site_nights(year, worked).nights}
    nowhere = replace(book, site=replace(book.site, country=""))
    assert thanksgiving in {night.on for night in site_nights(year, nowhere).nights}


def test_nights_without_a_crew_are_no_nights_and_travel_shortens_the_stay() -> None:
    year = a_year(two_zones("NORTH"), branch={"weekdays": frozenset({1, 3})})
    nights = site_nights(year, year.books[0])
    assert {night.on.weekday() for night in nights.nights} == {1, 3}
    assert min(night.on for night in nights.nights) > TODAY
    assert nights.visit_minutes == 480 - 2 * UNKNOWN_MINUTES
    assert nights.people == year.branch.crew_size


def test_a_zone_without_readings_runs_on_its_own_rhythm() -> None:
    habit = routinely(Work.RECOAT, "FREQ=MONTHLY;INTERVAL=2", starts_on=TODAY - 20 * DAY)
    unread = a_book("LANE", readings=(), routines=(habit,))
    agreed = a_book("EDGE", routines=(habit,), promises=(look_promised(policy=Policy.AS_AGREED),))
    decision = decide_branch(a_year(a_site_book("NORTH", unread, agreed)))
    rules = {
        line.zone: line.due.reason.rule
        for stub in decision.stubs
        for line in stub.lines
        if line.work is Work.RECOAT
    }
    assert rules == {"LANE": "set rhythm", "EDGE": "set rhythm"}


def test_a_zone_no_longer_under_care_is_left_out() -> None:
    over = a_book("LANE", zone=a_zone("LANE", from_on=BEGUN, to_on=TODAY - DAY))
    decision = decide_branch(a_year(a_site_book("NORTH", over, a_book("EDGE"))))
    assert [outlook.zone for outlook in decision.outlooks] == ["EDGE"]
    assert {line.zone for stub in decision.stubs for line in stub.lines} <= {"EDGE"}


def test_a_survey_tells_every_zone_s_condition_and_plans_nothing() -> None:
    year, decision, _ = usual()
    surveyed = survey_branch(year)
    assert [(o.site, o.zone) for o in surveyed] == [(o.site, o.zone) for o in decision.outlooks]
    assert [(o.site, o.zone) for o in surveyed] == sorted((o.site, o.zone) for o in surveyed)
    for mine, theirs in zip(surveyed, decision.outlooks, strict=True):
        assert (mine.gloss_gu, mine.promise_gu) == (theirs.gloss_gu, theirs.promise_gu)


def test_what_gathering_saved_is_travel_and_set_up_of_every_line_but_the_first() -> None:
    _, decision, _ = usual()
    spared = sum(len(stub.lines) - 1 for stub in decision.stubs)
    assert spared > 0
    assert decision.saved_minutes == spared * (30 + 2 * UNKNOWN_MINUTES)


def test_a_re_polish_too_long_for_one_night_covers_its_floor_once() -> None:
    decision = decide_branch(a_year(a_site_book("NORTH", a_book(readings=read_down(46.0)))))
    polish = [p for s in decision.stubs for p in s.lines if p.work is Work.REPOLISH]
    assert len(polish) > 1
    assert sum(part.area_m2 or 0.0 for part in polish) == pytest.approx(400.0, rel=0.01)


def ending(book: SiteBook, on: date) -> SiteBook:
    """The site with the care of its lane ending."""
    edge, lane = book.zones
    spans = (replace(lane.zone.spans[-1], to_on=on),)
    return replace(book, zones=(edge, replace(lane, zone=replace(lane.zone, spans=spans))))


def test_nothing_is_planned_after_a_zones_care_has_ended_nor_kept_where_it_stood() -> None:
    year, before, visits = usual()
    on = TODAY + 70 * DAY

    def late(decision: Decision) -> list[date]:
        return [
            stub.night.on
            for stub in decision.stubs
            for line in stub.lines
            if (stub.site, line.zone) == ("NORTH", "LANE") and stub.night.on > on
        ]

    north, south = year.books
    shorter = replace(year, books=(ending(north, on), south))
    assert late(before)
    for again in (decide_branch(shorter), decide_branch(planned(shorter, visits))):
        assert not late(again)
        mine = {line.zone for stub in again.stubs if stub.site == "NORTH" for line in stub.lines}
        assert mine == {"LANE", "EDGE"}


def test_years_without_known_holidays_are_asked_about_once_a_country() -> None:
    first = site_nights(a_year(), two_zones("NORTH", country="US")).nights[0].on
    far = date(2100, 12, 1)
    books = (two_zones("NORTH", country="US"), two_zones("SOUTH", country="US"))
    year = replace(a_year(*books, two_zones("WEST")), today=far, last_on=far + 60 * DAY)
    assert site_nights(year, books[0]).nights[0].on > first
    (found,) = [f for f in decide_branch(year).findings if "public holidays" in f.problem]
    assert "of US are not known for 2101" in found.problem
    assert "NORTH, SOUTH" in found.problem


def test_nothing_is_planned_for_a_site_after_the_last_branch_leaves_it() -> None:
    year, before, visits = usual()
    on = TODAY + 70 * DAY
    north, south = year.books
    last = replace(north.site.branches[-1], to_on=on)
    left = replace(north, site=replace(north.site, branches=(last,)))
    shorter = replace(year, books=(left, south))
    assert any(stub.site == "NORTH" and stub.night.on > on for stub in before.stubs)
    for again in (decide_branch(shorter), decide_branch(planned(shorter, visits))):
        mine = [stub.night.on for stub in again.stubs if stub.site == "NORTH"]
        assert mine
        assert max(mine) <= on
        assert again.unplaced == ()
