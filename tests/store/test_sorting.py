"""The order of precedence, row by row, without a database."""

from datetime import UTC, date, datetime

import pytest

from floorcare.errors import NotKnown
from floorcare.store.columns import FOLDER, PROGRAM
from floorcare.store.kind import Writer
from floorcare.store.sorting import Sorted, Stands, sort_out
from floorcare.store.traffic import TRAFFIC
from floorcare.store.treatments import TREATMENTS_DONE

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
JANUARY, MARCH, MAY = date(2026, 1, 1), date(2026, 3, 1), date(2026, 5, 1)


def key(first: date) -> tuple[object, ...]:
    return (1, "foot", first)


def values(per_day: float, last: date | None = None) -> tuple[object, ...]:
    return (last, per_day, True)


def sorted_out(wanted, stored, back=None, origin=FOLDER, kind=TRAFFIC) -> Sorted:
    writer = Writer(connection=None, who="anna", now=NOW, origin=origin)  # type: ignore[arg-type]
    return sort_out(writer, kind, wanted, stored, back or {})


def whats(out: Sorted) -> list[str]:
    return [one.what for one in out.differences]


def test_a_differing_folder_row_is_outranked_by_the_program_s_and_not_applied():
    out = sorted_out(
        {key(JANUARY): values(9.0)}, {key(JANUARY): Stands(values(5.0), None, PROGRAM)}
    )
    assert (out.added, out.changed, whats(out)) == ({}, {}, ["outranked"])
    assert out.differences[0].pairs == (("per_day", 5.0, 9.0),)


def test_a_folder_row_that_says_the_same_as_the_program_is_left_alone():
    out = sorted_out(
        {key(JANUARY): values(5.0)}, {key(JANUARY): Stands(values(5.0), None, PROGRAM)}
    )
    assert (out.unchanged, whats(out)) == (1, [])


def test_the_program_changes_a_folder_row_and_makes_it_its_own():
    out = sorted_out(
        {key(JANUARY): values(9.0)}, {key(JANUARY): Stands(values(5.0))}, None, PROGRAM
    )
    assert out.changed == {key(JANUARY): Stands(values(9.0), None, PROGRAM)}
    confirmed = sorted_out(
        {key(JANUARY): values(5.0)}, {key(JANUARY): Stands(values(5.0))}, None, PROGRAM
    )
    assert confirmed.differences[0].pairs == (("origin", FOLDER, PROGRAM),)


def test_a_folder_row_that_reaches_into_the_program_s_days_ends_the_day_before():
    program = {key(MARCH): Stands(values(5.0), None, PROGRAM)}
    out = sorted_out({key(JANUARY): values(9.0)}, program)
    assert out.added == {key(JANUARY): Stands(values(9.0, date(2026, 2, 28)))}
    assert whats(out) == []
    again = sorted_out({key(JANUARY): values(9.0)}, program | out.added)
    assert (again.unchanged, again.changed) == (1, {})


def test_a_folder_row_that_begins_inside_the_program_s_days_is_outranked():
    out = sorted_out({key(MAY): values(9.0)}, {key(MARCH): Stands(values(5.0), None, PROGRAM)})
    assert (out.added, out.changed, whats(out)) == ({}, {}, ["outranked"])


def test_a_program_row_that_was_taken_back_is_in_nobody_s_way():
    gone = {key(MARCH): Stands(values(5.0), NOW, PROGRAM)}
    assert list(sorted_out({key(MAY): values(9.0)}, gone).added) == [key(MAY)]


def test_the_program_s_later_word_ends_the_folder_s_row():
    out = sorted_out({key(MARCH): values(9.0)}, {key(JANUARY): Stands(values(5.0))}, None, PROGRAM)
    assert out.changed == {key(JANUARY): Stands(values(5.0, date(2026, 2, 28)))}
    assert whats(out) == ["ended"]


def test_a_row_to_withdraw_is_kept_with_its_time_and_a_second_time_changes_nothing():
    stored = {key(JANUARY): Stands(values(5.0))}
    out = sorted_out({}, stored, {key(JANUARY): "traffic"})
    assert out.changed == {key(JANUARY): Stands(values(5.0), NOW)}
    assert whats(out) == ["withdrawn"]
    again = sorted_out({}, out.changed, {key(JANUARY): "traffic"})
    assert (again.changed, again.unchanged) == ({}, 1)


def test_a_row_that_comes_in_and_is_withdrawn_at_once_is_kept_and_claims_no_days():
    back = {key(MARCH): "traffic"}
    stored = {key(JANUARY): Stands(values(5.0))}
    out = sorted_out({key(MARCH): values(9.0)}, stored, back)
    assert out.added == {key(MARCH): Stands(values(9.0), NOW)}
    assert out.changed == {}
    again = sorted_out({key(MARCH): values(9.0)}, stored | out.added, back)
    assert (again.added, again.changed, again.unchanged) == ({}, {}, 1)


def test_the_folder_cannot_withdraw_what_the_program_knows():
    stored = {key(JANUARY): Stands(values(5.0), None, PROGRAM)}
    out = sorted_out({}, stored, {key(JANUARY): "traffic"})
    assert (out.changed, whats(out)) == ({}, ["outranked"])
    by_program = sorted_out({}, stored, {key(JANUARY): "traffic"}, PROGRAM)
    assert whats(by_program) == ["withdrawn"]


def test_a_row_to_withdraw_that_never_was_is_named():
    with pytest.raises(NotKnown, match=r"^traffic NORTH/LANE foot: there is no such row"):
        sorted_out({}, {}, {key(JANUARY): "traffic NORTH/LANE foot"})


def test_a_treatment_of_a_visit_is_the_program_s_whoever_speaks():
    done = ("known", 0, 1.0, "us", "visit-uuid")
    out = sorted_out({(1, "recoat", JANUARY): done}, {}, kind=TREATMENTS_DONE)
    assert out.added == {(1, "recoat", JANUARY): Stands(done, None, PROGRAM)}
    bare = ("known", 0, 1.0, "us", "")
    assert whats(sorted_out({(1, "recoat", JANUARY): bare}, out.added, kind=TREATMENTS_DONE)) == [
        "outranked"
    ]


def test_a_shorter_run_of_days_is_told_as_ended_and_a_longer_one_as_changed():
    stored = {key(JANUARY): Stands(values(5.0, MARCH))}
    assert whats(sorted_out({key(JANUARY): values(5.0, date(2026, 2, 1))}, stored)) == ["ended"]
    assert whats(sorted_out({key(JANUARY): values(5.0, MAY)}, stored)) == ["changed"]
    assert whats(sorted_out({key(JANUARY): values(5.0)}, stored)) == ["changed"]
