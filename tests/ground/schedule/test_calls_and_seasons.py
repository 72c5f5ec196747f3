"""The rules of calls, seasons, fixed days and prohibitions, seen in a branch's whole plan."""

from dataclasses import replace
from datetime import date

from floorcare.ground.rules.fixed_days import FIXED_FACT
from floorcare.ground.schedule.answers import NOTHING_SAID
from floorcare.ground.schedule.branch_year import BranchYear, Decision, decide_branch
from floorcare.ground.schedule.difference import difference
from floorcare.ground.schedule.gather import Stub, clock_minutes, gather
from floorcare.ground.schedule.place import Wanted, crew_minutes, place
from floorcare.ground.schedule.years import year_of
from floorcare.ground.schedule.zone_dues import dues_of_fleet
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.make_up import Season
from floorcare.ground.trade.people import CallKind, CallReceived
from floorcare.ground.trade.surface import Surface, Tool
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Visit, VisitState
from floorcare.ground.wear.fleet import fit_fleet
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_branch,
    a_case,
    a_due,
    a_line,
    a_night,
    a_site_book,
    look_promised,
    nights_of,
    polished,
    read_down,
    routinely,
    slip_promised,
    slip_read,
)
from tests.called import a_call, response_promised
from tests.store.sample import INSTALLATION, NOW

CONCRETE = "polished_concrete"


def a_year(
    *calls: CallReceived,
    book: SiteBook | None = None,
    surface: Surface | None = None,
    **more: object,
) -> BranchYear:
    zone = a_book(
        readings=read_down(55.0, fall=0.2), promises=(look_promised(), response_promised(48))
    )
    return BranchYear(
        branch=a_branch(),
        books=(book or a_site_book("NORTH", zone),),
        surfaces={CONCRETE: surface or polished()},
        today=TODAY,
        last_on=TODAY + 100 * DAY,
        calls=calls,
        **{"standing": (), **more},  # type: ignore[arg-type]
    )


def nights(decision: Decision, work: Work) -> list[date]:
    return [s.night.on for s in decision.stubs for line in s.lines if line.work is work]


def visits(decision: Decision) -> tuple[Visit, ...]:
    return difference(
        decision.stubs, (), people=decision.people, installation=INSTALLATION, known=(), now=NOW
    ).altered


def test_a_call_is_answered_on_a_night_that_begins_in_time() -> None:
    assert nights(decide_branch(a_year()), Work.SPOT_REPAIR) == []
    # 4:00 on Monday in New York and 48 h: Tuesday's night begins in time
    decision = decide_branch(a_year(a_call()))
    assert nights(decision, Work.SPOT_REPAIR) == [TODAY + DAY]
    assert decision.unplaced == ()


def test_a_second_look_keeps_the_answer_and_a_closed_call_takes_it_away() -> None:
    call = a_call()
    first = visits(decide_branch(a_year(call)))
    stands = {"standing": first, "planned_to": TODAY + 100 * DAY}
    again = decide_branch(a_year(call, **stands))
    assert nights(again, Work.SPOT_REPAIR) == [TODAY + DAY]
    closed = replace(call, closed_at=call.received_at)
    assert nights(decide_branch(a_year(closed, **stands)), Work.SPOT_REPAIR) == []


def test_a_visit_that_is_held_for_a_call_answers_it_once() -> None:
    call = a_call()
    held = tuple(
        replace(visit, state=VisitState.HELD) if visit.night == TODAY + DAY else visit
        for visit in visits(decide_branch(a_year(call)))
    )
    again = decide_branch(a_year(call, standing=held, planned_to=TODAY + 100 * DAY))
    assert nights(again, Work.SPOT_REPAIR) == []
    other = replace(call, uuid="another")
    more = decide_branch(a_year(call, other, standing=held, planned_to=TODAY + 100 * DAY))
    assert len(nights(more, Work.SPOT_REPAIR)) == 1


def test_a_slip_is_tested_and_a_call_of_no_zone_is_named() -> None:
    decision = decide_branch(a_year(a_call(kind=CallKind.SLIP), a_call(zone="")))
    assert nights(decision, Work.SLIP_TEST) == [TODAY + DAY]
    assert [f for f in decision.findings if "names no zone under care" in f.problem]


def test_a_year_holds_the_calls_of_its_sites() -> None:
    mine, theirs = a_call(), a_call(site="SOUTH")
    year = year_of(
        a_branch(),
        books=(a_site_book(),),
        visits=(),
        surfaces={CONCRETE: polished()},
        pooled={},
        calls=(mine, theirs),
        today=TODAY,
    )
    assert year.calls == (mine,)


def test_the_reserve_is_kept_for_calls() -> None:
    branch = a_branch(crews=1, reserve_share=0.5)
    site = nights_of([a_night(TODAY + DAY)])

    def load(rule: str) -> int:
        lines = (a_line(a_due(target=TODAY + DAY, minutes=300, rule=rule)),)
        minutes = clock_minutes(lines, 1, {"LANE": polished()})
        assert crew_minutes(branch) < minutes + 40 < branch.shift_minutes
        stub = Stub(
            site="NORTH",
            night=site.nights[0],
            lines=lines,
            earliest=TODAY + DAY,
            latest=TODAY + DAY,
            minutes=minutes,
        )
        own = Wanted(
            stub=stub,
            stands_on=None,
            load=minutes + 40,
            site=replace(site, people=1),
            surfaces={"LANE": polished()},
        )
        return len(place([own], branch, {}).stubs)

    assert load("promise at confidence") == 0
    assert load("call response") == 1


SPRING = Season(name="leaves", from_month=4, from_day=15, to_month=5, to_day=15, factor=1.0)


def test_a_walked_coat_is_laid_before_its_season_and_the_walk_goes_on_from_there() -> None:
    def recoats(*seasons: Season) -> list[Due]:
        book = a_book(readings=read_down(49.0, fall=0.3), seasons=seasons)
        case = a_case(book, days=150)
        fleet = fit_fleet([("NORTH", book)], polished(), TODAY, draws=48)
        every = nights_of([a_night(TODAY + n * DAY) for n in range(1, 180)])
        found = dues_of_fleet(fleet, [case], {"NORTH": every}, (), TODAY + 150 * DAY)
        return [d for d in found.dues["NORTH", "LANE"] if d.work is Work.RECOAT]

    without = recoats()
    assert without
    first = without[0].target
    begins = first - 10 * DAY
    season = replace(SPRING, from_month=begins.month, from_day=begins.day)
    drawn = recoats(season)
    assert drawn[0].target < begins
    assert drawn[0].reason.rule in {"promise at confidence", "calendar cap"}
    assert "laid before leaves comes in" in drawn[0].reason.inside


def test_a_deep_scrub_after_a_season_is_planned_once_for_the_whole_site() -> None:
    zones = [a_book(code, readings=read_down(55.0, fall=0.2)) for code in ("EDGE", "LANE")]
    book = replace(a_site_book("NORTH", *zones), seasons=(replace(SPRING, to_month=4, to_day=20),))
    found = nights(decide_branch(a_year(book=book)), Work.DEEP_SCRUB)
    assert len(found) == 2
    assert len(set(found)) == 1
    assert date(2026, 4, 21) <= found[0] <= date(2026, 5, 18)


def test_a_fixed_day_takes_no_other_night() -> None:
    due = a_due(Work.BURNISH, target=TODAY + 3 * DAY)
    reason = replace(due.reason, facts=((FIXED_FACT, 1),))
    fixed = a_line(replace(due, reason=reason))
    assert NOTHING_SAID.takes(TODAY + 3 * DAY, [fixed])
    assert not NOTHING_SAID.takes(TODAY + 4 * DAY, [fixed])
    assert NOTHING_SAID.takes(TODAY + 4 * DAY, [a_line(due)])


def test_a_shut_fixed_day_is_named_and_nothing_takes_its_place() -> None:
    habit = routinely(Work.RECOAT, "FREQ=MONTHLY;BYDAY=1SU", promised=True, starts_on=TODAY)
    zone = a_book(routines=(habit,), promises=(), readings=())
    decision = decide_branch(a_year(book=a_site_book("NORTH", zone)))
    assert nights(decision, Work.RECOAT) == []
    (found,) = [f for f in decision.findings if "promised on fixed days" in f.problem]
    assert "3 of them are not open to us, the first on 2026-04-05" in found.problem


def with_brown_pad() -> Surface:
    tools = {**polished().tools, "red_pad": Tool(code="red_pad", name="brown pad")}
    return replace(polished(), tools=tools)


def test_a_method_that_uses_what_is_forbidden_is_not_planned_and_the_rest_is() -> None:
    habit = routinely(Work.RECOAT, "FREQ=MONTHLY", starts_on=TODAY - 20 * DAY)
    worn = a_book(readings=read_down(48.5), routines=(habit,))
    book = a_site_book("NORTH", worn)
    usual = decide_branch(a_year(book=book))
    assert nights(usual, Work.RECOAT)
    decision = decide_branch(a_year(book=book, surface=with_brown_pad()))
    works = {line.work for stub in decision.stubs for line in stub.lines}
    assert not works & {Work.RECOAT, Work.REPOLISH}
    assert Work.READING_ROUND in works
    named = [f.column for f in decision.findings if "is not planned" in f.problem]
    assert named == ["treatments.recoat", "treatments.re-polish"]


def test_a_ladder_with_a_missing_rung_is_named_and_climbed_without_it() -> None:
    methods = {w: r for w, r in polished().methods.items() if w is not Work.RECOAT}
    surface = replace(polished(), methods=methods)
    book = a_site_book("NORTH", a_book(readings=read_down(48.5)))
    decision = decide_branch(a_year(book=book, surface=surface))
    works = {line.work for stub in decision.stubs for line in stub.lines}
    assert works & {Work.FINE_BURNISH, Work.REPOLISH}
    (found,) = [f for f in decision.findings if f.column == "treatments.recoat"]
    assert "no method says how it is done" in found.problem


def test_zones_of_a_surface_that_cannot_be_read_are_named_and_the_rest_is_planned() -> None:
    book = a_site_book("NORTH", a_book("EDGE"), a_book("LANE"))
    edge = book.zones[0]
    span = replace(edge.zone.spans[0], surface="slate")
    other = replace(edge, zone=replace(edge.zone, spans=(span,)))
    decision = decide_branch(a_year(book=replace(book, zones=(other, book.zones[1]))))
    assert {line.zone for stub in decision.stubs for line in stub.lines} == {"LANE"}
    (found,) = [f for f in decision.findings if "EDGE is not planned" in f.problem]
    assert found.value == "slate"


def test_contradictory_promises_and_slip_that_does_not_count_are_named_in_the_plan() -> None:
    both = (slip_promised(0.45), replace(slip_promised(0.5), contract="C-2"))
    zone = a_book(promises=both, readings=(slip_read(TODAY - DAY, 0.6, "dry DCOF"),))
    decision = decide_branch(a_year(book=a_site_book("NORTH", zone)))
    problems = " ".join(finding.problem for finding in decision.findings)
    assert "C-1 and C-2 promise slip differently" in problems
    assert "by dry DCOF count for nothing" in problems
    assert nights(decision, Work.SLIP_TEST)


def test_a_call_goes_before_other_work_that_is_as_late() -> None:
    target = TODAY + DAY
    others = [a_due(Work.RECOAT, zone="A", target=target, minutes=600, area_m2=None)]
    call = a_due(Work.CALL, zone="Z", target=target, minutes=600, rule="call response")
    site = nights_of([a_night(TODAY + n * DAY, 460) for n in (1, 2)])
    surfaces = {"A": polished(), "Z": polished()}
    first, second = gather([*others, call], site, surfaces)[0]
    assert [line.work for line in first.lines] == [Work.CALL]
    assert [line.work for line in second.lines] == [Work.RECOAT]
