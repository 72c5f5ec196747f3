from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.rules.call_clock import OpenCall
from floorcare.ground.rules.calls import (
    ASSUMED_SPOT_M2,
    UNPROMISED_DAYS,
    call_dues,
    call_findings,
    grown_spot_m2,
    homeless_calls,
    spots_left,
)
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.limits import last_done, limits_of
from floorcare.ground.rules.unfinished import unfinished_dues
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.people import CallKind
from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.books.from_books import treatment_masks
from floorcare.ground.work.minutes import line_minutes
from tests.builders import DAY, TODAY, a_book, a_case, a_zone, polished, slip_read
from tests.called import a_call, an_open_call


def called(*calls: object, **more: object) -> ZoneCase:
    return a_case(a_book(routines=(), promises=()), calls=calls, **more)  # type: ignore[arg-type]


def test_a_spot_grows_by_the_margin_on_each_side() -> None:
    assert grown_spot_m2(4.0) == 16.0
    assert grown_spot_m2(0.25, 0.5) == 2.25
    assert grown_spot_m2(9.0, 0.0) == 9.0
    assert grown_spot_m2(0.0) == 4.0
    with pytest.raises(ValueError, match="0 or more"):
        grown_spot_m2(-1.0)


@pytest.mark.parametrize("kind", [CallKind.STAIN, CallKind.SPILL, CallKind.DAMAGE])
def test_a_stain_a_spill_and_damage_open_a_spot_repair_by_the_promised_night(
    kind: CallKind,
) -> None:
    (due,) = call_dues(called(an_open_call(a_call(kind=kind, spot_m2=4.0))))
    assert (due.work, due.earliest, due.target) == (Work.SPOT_REPAIR, TODAY + DAY, TODAY + DAY)
    assert due.latest == TODAY + 2 * DAY
    assert due.area_m2 == 16.0
    assert due.minutes == line_minutes(polished().methods[Work.SPOT_REPAIR], 16.0).minutes
    assert due.needs == polished().methods[Work.SPOT_REPAIR].needs
    assert due.reason.rule == "call response"
    assert due.reason.inside == (
        f"Spot repair for Hall B: {kind} reported on 2 March 2026, promised within 24 h, so by "
        "3 March 2026 04:00; 16.0 m² with 1 m around each spot, blended."
    )
    assert ("call", f"call-{kind}-{TODAY}-LANE") in due.reason.facts


def test_a_call_that_is_late_already_is_answered_on_the_first_night() -> None:
    (due,) = call_dues(called(an_open_call(last_night=None)))
    assert due.earliest == due.target == due.latest == TODAY + DAY
    assert "so by 3 March 2026 04:00, and no open night begins by then;" in due.reason.inside


def test_a_call_without_a_promise_waits_a_week_at_most() -> None:
    (due,) = call_dues(called(an_open_call(hours=None)))
    assert due.latest == TODAY + UNPROMISED_DAYS * DAY
    assert "no response promised" in due.reason.inside


def test_a_slip_opens_a_test_and_anything_else_a_look() -> None:
    slip, other = (an_open_call(a_call(kind=k)) for k in (CallKind.SLIP, CallKind.OTHER))
    assert [due.work for due in call_dues(called(slip, other))] == [Work.CALL, Work.SLIP_TEST]


def test_calls_that_ask_for_the_same_are_answered_together_by_the_earliest_night() -> None:
    early = an_open_call(a_call(spot_m2=1.0), last_night=TODAY + 2 * DAY)
    late = an_open_call(
        a_call(TODAY - DAY, kind=CallKind.SPILL, spot_m2=None), last_night=TODAY + 5 * DAY
    )
    (due,) = call_dues(called(early, late))
    assert due.latest == TODAY + 2 * DAY
    assert due.area_m2 == grown_spot_m2(1.0) + grown_spot_m2(ASSUMED_SPOT_M2)
    assert [value for name, value in due.reason.facts if name == "call"] == [
        early.call.uuid,
        late.call.uuid,
    ]


def test_a_spot_is_never_larger_than_its_zone() -> None:
    small = a_book(zone=a_zone(area_m2=6.0), promises=(), routines=())
    (due,) = call_dues(a_case(small, calls=(an_open_call(),)))
    assert due.area_m2 == 6.0
    unmeasured = a_book(zone=a_zone(area_m2=None), promises=(), routines=())
    (due,) = call_dues(a_case(unmeasured, calls=(an_open_call(),)))
    assert due.area_m2 == 9.0


def test_under_the_slip_guard_a_stain_is_looked_at_and_the_guard_answers_a_slip() -> None:
    slip = an_open_call(a_call(kind=CallKind.SLIP))
    (due,) = call_dues(called(an_open_call(), slip), guarded=True)
    assert due.work is Work.CALL
    assert due.reason.rejected == (("spot repair", "the zone is guarded for slip"),)


def test_a_surface_without_a_method_for_it_is_looked_at() -> None:
    surface = polished()
    bare = {work: rung for work, rung in surface.methods.items() if work is not Work.SPOT_REPAIR}
    (due,) = call_dues(called(an_open_call(), surface=replace(surface, methods=bare)))
    assert due.work is Work.CALL
    assert due.reason.rejected == (("spot repair", "polished concrete has no method for it"),)


def test_new_concrete_is_not_polished_for_a_stain_either() -> None:
    book = a_book(zone=a_zone(from_on=TODAY, poured_on=TODAY - 10 * DAY), promises=(), routines=())
    (due,) = call_dues(a_case(book, calls=(an_open_call(),)))
    assert due.earliest == due.target == TODAY + 18 * DAY
    assert due.reason.inside.endswith("it waits until 28 days after the pour.")
    # beyond the horizon nothing is planned yet
    assert call_dues(a_case(book, calls=(an_open_call(),), days=7)) == ()


def test_a_spot_repair_resets_nothing_and_leaves_no_rest() -> None:
    whole = TreatmentDone(work=Work.SPOT_REPAIR, done_on=TODAY - DAY)
    part = replace(whole, share=0.02)
    for done in (whole, part):
        book = a_book(done=(done,))
        assert last_done(book, Work.RECOAT) is None
        (limits,) = limits_of(book, polished(), [Work.RECOAT], TODAY)
        assert limits.last_on is None
        assert unfinished_dues(a_case(book)) == ()
        masks = treatment_masks([book], polished(), TODAY - 3 * DAY, 6)
        assert not any(mask.any() for work, _, mask in masks if work is not Work.BURNISH)
    coating = replace(
        polished().methods[Work.SPOT_REPAIR], effect=polished().methods[Work.RECOAT].effect
    )
    surface = replace(polished(), methods={**polished().methods, Work.SPOT_REPAIR: coating})
    (limits,) = limits_of(a_book(done=(whole,)), surface, [Work.RECOAT], TODAY)
    assert limits.last_on is None


def repaired(on: date, share: float = 1.0) -> TreatmentDone:
    return TreatmentDone(work=Work.SPOT_REPAIR, done_on=on, share=share)


def left(*done: TreatmentDone, calls: tuple[OpenCall, ...], **more: object) -> list[float]:
    case = a_case(a_book(done=done, promises=(), routines=()), calls=calls, **more)  # type: ignore[arg-type]
    return list(spots_left(case).values())


def test_what_was_repaired_since_the_call_is_set_against_its_spot() -> None:
    call = (an_open_call(),)  # 9 m² of 400
    assert left(calls=call) == [9.0]
    assert left(repaired(TODAY, 4.5 / 400), calls=call) == [4.5]
    assert left(repaired(TODAY, 8.2 / 400), calls=call) == []
    assert left(repaired(TODAY), calls=call) == []
    assert left(repaired(TODAY - DAY), calls=call) == [9.0]


def test_one_repair_does_not_answer_two_calls_nor_one_that_came_after_it() -> None:
    early = an_open_call(a_call(TODAY - 5 * DAY))
    late = an_open_call(a_call(TODAY, kind=CallKind.SPILL))
    assert left(repaired(TODAY - 3 * DAY), calls=(early, late)) == [9.0]
    assert left(repaired(TODAY, 9.0 / 400), calls=(early, late)) == [9.0]
    assert left(repaired(TODAY, 18.0 / 400), calls=(early, late)) == []


def test_what_stands_answers_and_the_rest_of_a_part_is_still_due() -> None:
    stands = repaired(TODAY + 3 * DAY, 4.5 / 400)
    case = called(an_open_call(), standing=(stands,))
    (due,) = call_dues(case)
    assert due.area_m2 == 4.5
    assert call_dues(called(an_open_call(), standing=(replace(stands, share=0.5),))) == ()


def test_a_test_or_a_look_since_answers_a_slip_or_another_call() -> None:
    slip, other = (an_open_call(a_call(kind=k)) for k in (CallKind.SLIP, CallKind.OTHER))
    for work, call in ((Work.SLIP_TEST, slip), (Work.CALL, other)):
        stands = TreatmentDone(work=work, done_on=TODAY + DAY)
        assert call_dues(called(call, standing=(stands,))) == ()
        strange = replace(stands, work=Work.CLEAN)
        assert len(call_dues(called(call, standing=(strange,)))) == 1
    for days, due in ((0, 0), (1, 1)):
        book = a_book(routines=(), promises=(), readings=(slip_read(TODAY - days * DAY, 0.6),))
        assert len(call_dues(a_case(book, calls=(slip,)))) == due


def test_a_call_the_records_say_is_repaired_is_put_to_a_person() -> None:
    call = an_open_call(a_call(TODAY - 4 * DAY))
    case = a_case(a_book(done=(repaired(TODAY - 2 * DAY),)), calls=(call,))
    assert call_dues(case) == ()
    (found,) = call_findings(case)
    assert found.weight == "asks"
    assert "is still open, and a spot repair was done on 2026-02-28" in found.problem
    for share, on in ((0.01, TODAY - 2 * DAY), (1.0, TODAY - 5 * DAY), (1.0, TODAY)):
        done = (repaired(on, share),)
        assert call_findings(a_case(a_book(done=done), calls=(call,))) == ()


def test_a_call_without_a_zone_is_named() -> None:
    closed = a_call(zone="")
    calls = (a_call(zone=""), a_call(), replace(closed, closed_at=closed.received_at))
    (found,) = homeless_calls(calls, ["LANE", "EDGE"])
    assert "names no zone under care" in found.problem
    assert found.allowed == "LANE, EDGE"
