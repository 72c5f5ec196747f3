from dataclasses import replace

from floorcare.ground.rules.contradictions import promise_findings
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.treatment import Work
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_case,
    a_zone,
    look_promised,
    polished,
    routinely,
    slip_promised,
)
from tests.called import response_promised


def problems(*lines: PromiseLine, **more: object) -> list[str]:
    case = a_case(a_book(promises=lines, **more))
    found = promise_findings(case)
    assert {finding.weight for finding in found} <= {"asks"}
    return [finding.problem.removeprefix("NORTH/LANE: ") for finding in found]


def test_promises_that_go_together_are_not_asked_about() -> None:
    assert problems(look_promised(), slip_promised(), response_promised()) == []


def test_two_promises_of_a_kind_that_differ_on_a_day_are_named_and_the_later_counts() -> None:
    first = look_promised(60.0)
    second = replace(look_promised(55.0), contract="C-2")
    (found,) = promise_findings(a_case(a_book(promises=(first, second))))
    assert found.problem == (
        f"NORTH/LANE: C-1 and C-2 promise appearance differently from {first.starts_on} to "
        f"{first.ends_on}; the latter is planned for"
    )
    assert found.value == "reference GU 60.0 and 55.0"
    book = a_book(promises=(first, second))
    assert book.promise_on(TODAY, PromiseKind.APPEARANCE) is second


def test_the_same_promised_twice_and_one_after_the_other_are_no_contradiction() -> None:
    assert problems(look_promised(), replace(look_promised(), contract="C-2")) == []
    early = look_promised(60.0, ends_on=TODAY + 30 * DAY)
    late = look_promised(55.0, starts_on=TODAY + 31 * DAY)
    assert problems(early, late) == []
    past = look_promised(60.0, ends_on=TODAY - DAY)
    assert problems(past, look_promised(55.0)) == []


def test_slip_and_response_can_contradict_as_well() -> None:
    assert len(problems(slip_promised(0.45), replace(slip_promised(0.5), contract="C-2"))) == 1
    assert len(problems(response_promised(24), response_promised(12))) == 1


def rhythm_promised() -> PromiseLine:
    look = look_promised()
    return PromiseLine(
        contract="C-1", kind=PromiseKind.RHYTHM, starts_on=look.starts_on, ends_on=look.ends_on
    )


def test_a_rhythm_nobody_entered_is_named_once() -> None:
    promised = routinely(Work.RECOAT, "FREQ=YEARLY", promised=True)
    assert problems(rhythm_promised(), routines=(promised,)) == []
    ended = replace(promised, ends_on=TODAY - DAY)
    for routines in ((), (ended,), (replace(promised, promised=False),)):
        assert problems(rhythm_promised(), rhythm_promised(), routines=routines) == [
            "C-1 promises a rhythm and no routine says which"
        ]


def test_a_promised_treatment_the_surface_does_not_know_is_named() -> None:
    promised = routinely(Work.RECOAT, "FREQ=YEARLY", promised=True)
    methods = {w: r for w, r in polished().methods.items() if w is not Work.RECOAT}
    case = a_case(
        a_book(promises=(), routines=(promised,)), surface=replace(polished(), methods=methods)
    )
    (found,) = promise_findings(case)
    assert "recoat is promised, and polished concrete has no method for it" in found.problem


def test_a_withdrawn_or_unfitting_slip_method_is_refused_with_its_reason() -> None:
    withdrawn = replace(slip_promised(), slip_method="ASTM C1028")
    (found,) = problems(withdrawn)
    assert found.endswith("ASTM C1028 was withdrawn in February 2014")
    ramp = replace(slip_promised(36), slip_method="pendulum PTV", slip_place="ramp")
    (found,) = problems(ramp, zone=a_zone(place="ramp"))
    assert found.endswith('pendulum PTV has no published limit for the place "ramp"')


def test_another_place_and_less_than_the_least_are_asked_about() -> None:
    (found,) = problems(slip_promised(), zone=a_zone(place="ramp"))
    assert "for the place level, and the zone is entered as ramp" in found
    (found,) = problems(slip_promised(0.30))
    assert "less slip resistance than the method's least" in found


def test_a_response_without_hours_is_asked_about() -> None:
    assert problems(response_promised(None)) == ["C-1 promises a response and names no hours"]
