from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.wear.books.counts import DayCount
from floorcare.services.load_care import load_care
from floorcare.services.record_traffic import (
    CountAnswers,
    ZoneCounts,
    record_counts,
    record_figure,
)
from tests.services.conftest import TODAY, care
from tests.services.watched import WatchedStore
from tests.store.sample import LATER, START

FIRST = date(2026, 1, 1)


def days(many=31, persons=lambda on: 1000.0 + on.day, first=FIRST, **more):
    dates = [first + timedelta(days=at) for at in range(many)]
    return tuple(DayCount(on=on, persons=persons(on), **more) for on in dates)


def record(store, counted, **more):
    said = {"file": "c.csv", "today": TODAY, "who": "anna", "now": LATER} | more
    of = ZoneCounts(site="NORTH", zone="LANE", kind="foot", days=tuple(counted))
    return record_counts(store, [of], **said)


def kept(store):
    with store.work() as work:
        return work.books(["NORTH"])[0].zones[0].traffic


def row(per_day, first, last, counted=True):
    return TrafficRow(kind="foot", per_day=per_day, counted=counted, from_on=first, to_on=last)


def test_counted_days_become_a_row_and_what_stood_ends_the_day_before(loaded):
    recorded = record(loaded, days(persons=lambda on: 900.0 + on.day % 2))
    assert (recorded.days, recorded.questions, recorded.findings) == (31, (), ())
    before, now = kept(loaded)
    assert (before.from_on, before.to_on) == (START, date(2025, 12, 31))
    assert (now.from_on, now.to_on, now.counted) == (FIRST, date(2026, 1, 31), True)
    assert now.per_day == pytest.approx(900.5, abs=0.1)
    assert [c.what for c in recorded.changes if c.what == "ended"] == ["ended"]


def test_it_is_one_transaction_one_line_of_history_and_one_name(loaded):
    watched = WatchedStore(loaded)
    record(watched, days())
    assert (watched.blocks, watched.commits) == ([True], 1)
    with loaded.work() as work:
        assert (len(work.history()), work.history()[0].who) == (2, "anna")


def test_the_same_again_writes_nothing(loaded):
    record(loaded, days())
    again = record(loaded, days())
    assert (again.rows, again.known, again.questions) == ((), 1, ())
    with loaded.work() as work:
        assert len(work.history()) == 2


def test_looking_leaves_no_trace(loaded):
    assert len(record(loaded, days(), check=True).rows) == 1
    assert len(kept(loaded)) == 1


def test_a_folder_loaded_later_leaves_what_was_counted(loaded):
    record(loaded, days())
    before = kept(loaded)
    load_care(loaded, care(), who="office", now=LATER)
    assert kept(loaded) == before


def test_counts_kept_otherwise_are_asked_about_and_answered(loaded):
    record(loaded, days())
    more = days(persons=lambda on: 1200.0 + on.day)
    asked = record(loaded, more)
    assert (asked.rows, asked.questions[0][1]) == ((), "counted_before")
    stays = record(loaded, more, answers=CountAnswers(counted_before="keep stored"))
    assert (stays.rows, stays.known) == ((), 1)
    record(loaded, more, answers=CountAnswers(counted_before="replace"))
    assert kept(loaded)[-1].per_day > 1200


def test_a_longer_export_takes_the_place_of_a_shorter_one(loaded):
    record(loaded, days(15))
    record(loaded, days(31))
    assert [(r.from_on, r.to_on) for r in kept(loaded)][1:] == [(FIRST, date(2026, 1, 31))]
    again = record(loaded, days(15))
    assert again.questions[0][1] == "counted_before"


@pytest.mark.parametrize(
    ("key", "spoil"),
    [
        ("zero_days", {"persons": 0.0}),
        ("jumps", {"persons": 99_000.0}),
        ("stuck", {"one_number": True}),
    ],
)
def test_a_doubtful_day_is_asked_about_and_answered(loaded, key, spoil):
    counted = list(days(28, buckets=16))
    counted[9] = replace(counted[9], row=11, **spoil)
    asked = record(loaded, counted)
    assert (asked.rows, asked.questions) == ((), (("answers", key, ("take", "leave out")),))
    (finding,) = asked.findings
    assert (finding.weight, finding.row, "2026-01-10" in finding.problem) == ("stops", 11, True)
    left = record(loaded, counted, answers=CountAnswers(**{key: "leave out"}), check=True)
    taken = record(loaded, counted, answers=CountAnswers(**{key: "take"}), check=True)
    assert (left.days, left.left_out, taken.days, taken.left_out) == (27, 1, 28, 0)


def test_a_weekday_that_never_stands_in_the_export_is_asked_about(loaded):
    counted = [d for d in days(28, lambda on: 700.0 + on.day % 3) if d.on.weekday() != 6]
    asked = record(loaded, counted)
    assert asked.questions == (("counting", "absent_weekdays", ("zero", "not counted")),)
    shut = record(loaded, counted, answers=CountAnswers(absent_weekdays="zero"), check=True)
    open_ = record(loaded, counted, answers=CountAnswers(absent_weekdays="not counted"), check=True)
    assert shut.rows[0][1].per_day == pytest.approx(open_.rows[0][1].per_day * 6 / 7, abs=0.2)


def test_a_day_with_too_few_buckets_is_left_out_and_told(loaded):
    counted = list(days(28, buckets=96))
    counted[4] = replace(counted[4], buckets=20, persons=3.0, row=6)
    recorded = record(loaded, counted)
    assert (recorded.days, recorded.left_out) == (27, 1)
    assert [f.row for f in recorded.findings] == [6, 0]
    assert recorded.rows[0][1].per_day > 1000


def test_gaps_are_named_and_days_too_few_are_left_out(loaded):
    counted = [d for d in days(59) if not 20 <= (d.on - FIRST).days < 55]
    recorded = record(loaded, counted)
    assert [(r.from_on, r.to_on) for _, r in recorded.rows] == [(FIRST, date(2026, 1, 20))]
    problems = " ".join(f.problem for f in recorded.findings)
    assert "nothing was counted from 2026-01-21 to 2026-02-24" in problems
    assert "4 counted days from 2026-02-25 are too few" in problems
    assert recorded.left_out == 4


def test_today_is_not_over_and_days_before_care_are_no_traffic(loaded):
    recorded = record(loaded, days(20, first=TODAY - timedelta(days=14)))
    assert (recorded.days, recorded.left_out) == (14, 6)
    recorded = record(loaded, days(20, first=START - timedelta(days=5)), check=True)
    assert (recorded.days, recorded.left_out) == (15, 5)


def test_other_kinds_stand_beside_each_other(loaded):
    of = ZoneCounts(site="NORTH", zone="LANE", kind="trolley", days=days())
    record_counts(loaded, [of], file="c.csv", today=TODAY, who="anna", now=LATER)
    assert [(r.kind, r.to_on) for r in kept(loaded)] == [
        ("foot", None),
        ("trolley", date(2026, 1, 31)),
    ]


def test_a_figure_typed_by_hand_is_written_once(loaded):
    figure = row(1850.0, date(2026, 2, 1), None, counted=False)
    said = {"who": "anna", "now": LATER}
    recorded = record_figure(loaded, "NORTH", "LANE", figure, **said)
    assert recorded.rows == (("NORTH/LANE", figure),)
    assert kept(loaded)[-1] == figure
    assert record_figure(loaded, "NORTH", "LANE", figure, **said).known == 1
    with loaded.work() as work:
        assert len(work.history()) == 2


def test_a_figure_only_looked_at_leaves_no_trace(loaded):
    figure = row(1850.0, date(2026, 2, 1), None)
    record_figure(loaded, "NORTH", "LANE", figure, who="anna", now=LATER, check=True)
    assert len(kept(loaded)) == 1


def test_a_figure_of_a_zone_nobody_knows_is_refused(loaded):
    with pytest.raises(NotKnown):
        record_figure(loaded, "NORTH", "LOFT", row(1.0, FIRST, None), who="anna", now=LATER)
