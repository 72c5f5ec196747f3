from datetime import date

import pytest

from floorcare.faces.intake.export_buckets import Bucket, apart, bucket_length, days_of, once
from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes


def buckets(*persons, apart_minutes=60, first=360):
    return [
        Bucket(row, date(2026, 2, 3), first + at * apart_minutes, float(value))
        for at, (row, value) in enumerate(enumerate(persons, start=2))
    ]


def said(**tables):
    return ExportMapping("traffic", tables), ExportNotes("e.csv")


def test_a_moment_repeated_with_the_same_number_is_counted():
    kept, repeated = once({"A": [*buckets(5, 6), *buckets(5)]}, *said())
    assert ([b.persons for b in kept["A"]], repeated) == ([5, 6], 1)


@pytest.mark.parametrize(("answer", "persons"), [("first", 5), ("last", 9), ("add", 14)])
def test_another_number_at_one_moment_is_asked_and_answered(answer, persons):
    mapping, notes = said()
    once({"A": [*buckets(5), *buckets(9)]}, mapping, notes)
    assert notes.questions[0].key == "repeats"
    mapping, notes = said(answers={"repeats": answer})
    kept, _ = once({"A": [*buckets(5), *buckets(9)]}, mapping, notes)
    assert ([b.persons for b in kept["A"]], notes.stops) == ([persons], False)


def test_numbers_that_only_rise_are_asked_about():
    mapping, notes = said()
    apart({"A": buckets(*range(100, 130))}, mapping, notes)
    assert notes.questions[0].key == "numbers"
    mapping, notes = said(counting={"numbers": "each bucket"})
    apart({"A": buckets(*range(100, 130))}, mapping, notes)
    assert not notes.stops


def test_a_running_total_is_taken_apart_to_the_moment_each_part_began():
    found = apart({"A": buckets(100, 130, 190)}, *said(counting={"numbers": "running total"}))
    assert [(b.minute, b.persons) for b in found["A"]] == [(360, 30), (420, 60)]


def test_a_running_total_that_falls_is_asked_about():
    mapping, notes = said(counting={"numbers": "running total"})
    apart({"A": buckets(100, 130, 5)}, mapping, notes)
    assert (notes.questions[0].key, notes.findings()[0].row) == ("negative", 4)
    mapping, notes = said(counting={"numbers": "running total"}, answers={"negative": "leave out"})
    assert len(apart({"A": buckets(100, 130, 5)}, mapping, notes)["A"]) == 1


@pytest.mark.parametrize("minutes", [15, 30, 60])
def test_the_length_of_a_bucket_is_what_parts_most_rows(minutes):
    mapping, notes = bucket_said(buckets(*range(10), apart_minutes=minutes))
    assert (mapping.table("counting"), notes.stops) == ({"bucket_minutes": minutes}, False)


def bucket_said(of, **tables):
    mapping, notes = said(**tables)
    return bucket_length({"A": of}, mapping, notes), notes


def test_a_length_that_cannot_be_told_is_asked():
    assert bucket_said(buckets(5))[1].questions[0].key == "bucket_minutes"
    assert bucket_said(buckets(5, 6, 7, apart_minutes=47))[1].questions[0].key == "bucket_minutes"
    assert not bucket_said(buckets(5), counting={"bucket_minutes": 60})[1].stops


@pytest.mark.parametrize("told", [0, 7, "hour", 2880])
def test_a_length_that_parts_no_day_is_refused(told):
    assert bucket_said(buckets(5), counting={"bucket_minutes": told})[1].stops


def test_days_add_their_buckets_and_remember_one_number():
    (day,) = days_of(buckets(7, 7, 7))
    assert (day.persons, day.buckets, day.one_number, day.row) == (21.0, 3, True, 2)
    assert days_of(buckets(7, 8))[0].one_number is False
