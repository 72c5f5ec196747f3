from datetime import date

import pytest

from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes
from floorcare.faces.intake.export_repeats import settle_repeats
from floorcare.services.record_readings import TypedReading
from tests.store.sample import gloss


def typed(*values):
    return [
        TypedReading(site="NORTH", reading=gloss(date(2026, 1, 5), value), row=at)
        for at, value in enumerate(values, start=2)
    ]


def settled(values, answer=""):
    notes = ExportNotes("e.csv")
    said = {"answers": {"repeats": answer}} if answer else {}
    kept, repeated = settle_repeats(typed(*values), ExportMapping("readings", said), notes)
    return [one.reading.value for one in kept], repeated, notes


def test_the_same_value_again_is_counted_and_skipped():
    assert settled([41.0, 41.0, 41.0])[:2] == ([41.0], 2)


def test_another_value_at_one_moment_is_asked():
    kept, _, notes = settled([41.0, 43.0])
    assert (kept, notes.findings()[0].row, notes.findings()[0].value) == ([], 3, "43")


@pytest.mark.parametrize(
    ("answer", "value", "repeated"), [("mean", 42.0, 0), ("first", 41.0, 0), ("last", 43.0, 0)]
)
def test_the_mapping_says_which_counts(answer, value, repeated):
    assert settled([41.0, 42.0, 43.0], answer)[:2] == ([value], repeated)


def test_a_mean_counts_equal_shots_as_shots():
    assert settled([41.0, 41.0, 44.0], "mean")[:2] == ([42.0], 0)
