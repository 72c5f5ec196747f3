from datetime import date

import pytest

from floorcare.ground.rules.slip import (
    RETESTS_BEFORE_TREATMENT,
    UNTESTED_DAYS,
    first_test_due,
    guard_dues,
    judge_slip,
    retest_due,
    slip_findings,
    slip_guard,
    slip_unknown,
)
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, a_case, a_due, a_zone, slip_promised, slip_read


def nights_ago(*values: float) -> tuple:  # type: ignore[type-arg]
    """Slip tests a week apart, the last of them last week."""
    return tuple(
        slip_read(TODAY - 7 * (len(values) - n) * DAY, value) for n, value in enumerate(values)
    )


def test_a_failed_test_guards_the_zone_until_a_retest_passes() -> None:
    failed = a_book(readings=nights_ago(0.50, 0.40))
    guard = slip_guard(failed, TODAY)
    assert guard is not None
    assert (guard.since, guard.failed) == (TODAY - 7 * DAY, 1)
    assert guard.verdict.limit == 0.42
    again = slip_guard(a_book(readings=nights_ago(0.40, 0.39)), TODAY)
    assert again is not None
    assert (again.since, again.failed) == (TODAY - 14 * DAY, 2)
    assert slip_guard(a_book(readings=nights_ago(0.40, 0.42)), TODAY) is None


def test_tests_count_again_from_one_after_a_pass() -> None:
    guard = slip_guard(a_book(readings=nights_ago(0.40, 0.39, 0.45, 0.41)), TODAY)
    assert guard is not None
    assert (guard.since, guard.failed) == (TODAY - 7 * DAY, 1)


def test_never_tested_is_not_guarded_and_a_later_test_is_not_foreseen() -> None:
    assert slip_guard(a_book(readings=()), TODAY) is None
    later = a_book(readings=(slip_read(TODAY + DAY, 0.30),))
    assert slip_guard(later, TODAY) is None
    assert slip_guard(later, TODAY + DAY) is not None


def test_the_worst_station_of_a_night_decides() -> None:
    night = TODAY - 3 * DAY
    stations = (slip_read(night, 0.60), slip_read(night, 0.41, station="P2"))
    for readings in (stations, stations[::-1]):
        guard = slip_guard(a_book(readings=readings), TODAY)
        assert guard is not None
        assert guard.failed == 1


def test_the_promise_s_own_stricter_limit_binds_by_its_own_method() -> None:
    readings = nights_ago(0.44)
    assert slip_guard(a_book(readings=readings), TODAY) is None
    promised = a_book(readings=readings, promises=(slip_promised(0.45),))
    guard = slip_guard(promised, TODAY)
    assert guard is not None
    assert guard.verdict.sentence == "wet DCOF 0.44 is below 0.45, the promise."
    by_pendulum = a_book(
        readings=(slip_read(TODAY - DAY, 40.0, "pendulum PTV"),), promises=promised.promises
    )
    assert slip_guard(by_pendulum, TODAY) is None


def test_a_ramp_asks_for_more_than_a_level_floor() -> None:
    readings = nights_ago(0.43)
    assert slip_guard(a_book(readings=readings), TODAY) is None
    ramp = a_book(zone=a_zone(place="ramp"), readings=readings)
    assert slip_guard(ramp, TODAY) is not None
    # what the promise says of the place outranks the zone's own word
    line = slip_promised(0.42, slip_place="level")
    assert slip_guard(a_book(zone=ramp.zone, readings=readings, promises=(line,)), TODAY) is None


@pytest.mark.parametrize(
    ("method", "value"), [("ASTM C1028", 0.2), ("dry DCOF", 0.2), ("thumb", 0.2), ("wet DCOF", 45)]
)
def test_a_method_that_cannot_be_judged_guards_nothing_and_clears_nothing(
    method: str, value: float
) -> None:
    odd = slip_read(TODAY - DAY, value, method)
    assert judge_slip(a_book(), odd) is None
    assert slip_guard(a_book(readings=(odd,)), TODAY) is None
    assert slip_guard(a_book(readings=(*nights_ago(0.40), odd)), TODAY) is not None


def works(*values: float, standing: tuple[TreatmentDone, ...] = ()) -> list[Work]:
    case = a_case(a_book(readings=nights_ago(*values)), standing=standing, first_open=TODAY + DAY)
    guard = slip_guard(case.book, TODAY)
    assert guard is not None
    dues = guard_dues(case, guard)
    assert {d.target for d in dues} <= {TODAY + DAY}
    assert {d.latest for d in dues} <= {TODAY + DAY}
    assert {d.reason.rule for d in dues} <= {"slip guard"}
    return [due.work for due in dues]


def test_a_guarded_zone_is_cleaned_and_tested_again_on_the_first_night() -> None:
    assert works(0.40) == [Work.CLEAN, Work.SLIP_TEST]
    assert works(0.40, 0.39) == [Work.CLEAN, Work.SLIP_TEST]


def test_after_two_failed_retests_the_least_treatment_that_restores_slip_is_due() -> None:
    assert RETESTS_BEFORE_TREATMENT == 2
    assert works(0.40, 0.39, 0.41) == [Work.DEEP_SCRUB, Work.SLIP_TEST]
    assert works(0.40, 0.39, 0.41, 0.40) == [Work.DEEP_SCRUB, Work.SLIP_TEST]


def test_what_stands_for_a_guarded_zone_is_not_planned_twice() -> None:
    clean = TreatmentDone(work=Work.CLEAN, done_on=TODAY + DAY)
    assert works(0.40, standing=(clean,)) == [Work.SLIP_TEST]


def test_the_reason_says_the_value_the_limit_and_since_when() -> None:
    case = a_case(a_book(readings=nights_ago(0.40)))
    guard = slip_guard(case.book, TODAY)
    assert guard is not None
    assert guard_dues(case, guard)[0].reason.inside == (
        "Clean for Hall B: wet DCOF 0.40 is below 0.42, the least for a level floor since "
        "23 February 2026; guarded, no gloss treatment until a retest passes."
    )


def test_a_retest_follows_in_the_window_of_its_treatment() -> None:
    parent = a_due(
        Work.RECOAT,
        earliest=date(2026, 3, 20),
        target=date(2026, 3, 25),
        latest=date(2026, 4, 2),
        needs={"wet"},
    )
    test = retest_due(a_case(), parent)
    assert (test.work, test.zone) == (Work.SLIP_TEST, "LANE")
    assert (test.earliest, test.target, test.latest) == (
        parent.earliest,
        parent.target,
        parent.latest,
    )
    assert test.needs == frozenset()
    assert test.reason.rule == "slip retest"


def test_what_stands_far_off_does_not_answer_the_guard() -> None:
    for days, left in ((8, []), (9, [Work.CLEAN])):
        clean = TreatmentDone(work=Work.CLEAN, done_on=TODAY + days * DAY)
        assert works(0.40, standing=(clean,)) == [*left, Work.SLIP_TEST]


def test_promised_slip_without_a_test_that_counts_is_unknown() -> None:
    promised = (slip_promised(),)
    assert slip_unknown(a_book(readings=(), promises=promised), TODAY)
    odd = slip_read(TODAY - DAY, 0.6, "dry DCOF")
    assert slip_unknown(a_book(readings=(odd,), promises=promised), TODAY)
    assert slip_unknown(a_book(readings=(slip_read(TODAY + DAY, 0.6),), promises=promised), TODAY)
    for value in (0.30, 0.60):
        tested = a_book(readings=(slip_read(TODAY, value),), promises=promised)
        assert not slip_unknown(tested, TODAY)
    assert not slip_unknown(a_book(readings=(), promises=()), TODAY)


def test_what_is_unknown_is_tested_within_a_fortnight_unless_a_test_stands() -> None:
    case = a_case(a_book(readings=(), promises=(slip_promised(),)))
    (due,) = first_test_due(case)
    assert (due.work, due.target) == (Work.SLIP_TEST, case.first_night)
    assert due.latest == case.first_night + UNTESTED_DAYS * DAY
    assert due.reason.rule == "slip unknown"
    stands = TreatmentDone(work=Work.SLIP_TEST, done_on=TODAY + 20 * DAY)
    assert first_test_due(a_case(case.book, standing=(stands,))) == ()
    assert first_test_due(a_case(a_book(readings=(), promises=()))) == ()


def test_tests_that_count_for_nothing_are_named_with_the_reason_once_a_method() -> None:
    readings = (
        slip_read(TODAY - 3 * DAY, 0.6, "ASTM C1028"),
        slip_read(TODAY - 2 * DAY, 0.6, "ASTM C1028"),
        slip_read(TODAY - DAY, 40.0, "pendulum PTV"),
        slip_read(TODAY, 0.5),
    )
    withdrawn, unfitting = slip_findings(
        a_case(a_book(zone=a_zone(place="ramp"), readings=readings, promises=()))
    )
    assert withdrawn.problem == (
        "slip tests of NORTH/LANE by ASTM C1028 count for nothing (2, the last on 2026-02-28): "
        "ASTM C1028 was withdrawn in February 2014"
    )
    assert withdrawn.mend == "use wet DCOF or pendulum PTV"
    assert 'no published limit for the place "ramp"' in unfitting.problem
    out = a_case(a_book(readings=(slip_read(TODAY, 45.0),), promises=()))
    assert "was another method meant?" in slip_findings(out)[0].mend
    assert slip_findings(a_case(a_book(readings=(slip_read(TODAY, 0.5),)))) == ()
