from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.faces.cli.record_round import Round, record_round, typed_traffic
from floorcare.store.open import open_store
from tests.faces.cli.folders import TODAY, TODAY_TEXT, make_folder
from tests.faces.cli.terminal import floorcare

TYPED = Round(
    zone="MARKET/LANE",
    on=date(2026, 11, 20),
    at="21:40",
    state="after burnish",
    geometry=60,
    instrument="M1",
    reader="ANNA",
    witness="",
    values=("45.9", "44,3"),
)


@pytest.fixture
def loaded(tmp_path, new_database):
    floorcare("load", make_folder(tmp_path / "care"), "--today", TODAY_TEXT)
    return str(new_database)


def record(loaded, typed=TYPED, **more):
    said = {"today": TODAY, "who": "anna", "sure": False, "check": False} | more
    return record_round(typed, loaded, **said)


def lane(loaded):
    store = open_store(loaded)
    with store.work() as work:
        found = next(z for z in work.books(["MARKET"])[0].zones if z.zone.code == "LANE")
    store.close()
    return [r for r in found.readings if r.taken_on == TYPED.on]


def test_values_go_to_the_stations_in_order_with_all_that_was_said(loaded):
    assert record(loaded).recorded.written == 2
    first, second = lane(loaded)
    assert (first.station, first.value, second.station, second.value) == ("P1", 45.9, "P2", 44.3)
    assert (first.taken_minute, first.instrument, first.reader) == (1300, "M1", "ANNA")


def test_a_station_that_was_not_read_is_left_open(loaded):
    record(loaded, replace(TYPED, values=("-", "44.3"), at=""))
    (only,) = lane(loaded)
    assert (only.station, only.taken_minute) == ("P2", 720)


def test_what_was_expected_is_what_stood_before_and_shows_after(loaded):
    told = record(loaded)
    assert told.expected_gu is not None
    assert told.low_gu < told.expected_gu < told.high_gu
    assert f"Expected that day {told.expected_gu:.1f} GU" in told.said
    again = record(loaded, replace(TYPED, values=("45.9", "44,3")))
    assert (again.expected_gu, again.recorded.known) == (None, 2)


def test_looking_shows_neither_the_last_nor_the_expected(loaded):
    told = record(loaded, check=True)
    assert (told.expected_gu, told.said) == (None, "2 readings of MARKET/LANE would be written.")
    assert lane(loaded) == []


def test_another_angle_has_no_expected_value(loaded):
    assert record(loaded, replace(TYPED, geometry=20)).expected_gu is None


def test_a_round_before_care_is_left_out_without_an_expected_value(loaded):
    told = record(loaded, replace(TYPED, on=date(2023, 1, 2)))
    assert (told.recorded.written, told.recorded.left_out, told.expected_gu) == (0, 2, None)


@pytest.mark.parametrize(
    "wrong",
    [
        {"values": ("45.9",)},
        {"values": ("45.9", "44.3", "44.0")},
        {"values": ("459", "44.3")},
        {"values": ("x1", "44.3")},
        {"state": "shiny"},
        {"geometry": 75},
        {"at": "24:00"},
    ],
)
def test_what_cannot_be_understood_is_refused(loaded, wrong):
    with pytest.raises(NotUnderstood):
        record(loaded, replace(TYPED, **wrong))
    assert lane(loaded) == []


def test_a_zone_nobody_knows_is_refused(loaded):
    with pytest.raises(NotKnown, match="MARKET/LANE"):
        record(loaded, replace(TYPED, zone="MARKET/LAME"))


def test_a_zone_without_stations_takes_one_value_for_the_whole(loaded):
    told = record(loaded, replace(TYPED, zone="MARKET/EDGE", values=("61",)))
    assert told.recorded.written == 1


def test_a_figure_is_read_with_its_days_and_kind():
    days = (date(2026, 11, 1), date(2026, 11, 30))
    site, zone, row = typed_traffic("A/B", "Pallet-Truck", ["1 850"], *days, counted=False)
    assert (site, zone, row.kind, row.per_day, row.counted) == (
        "A",
        "B",
        "pallet truck",
        1850,
        False,
    )
    assert (row.from_on, row.to_on) == days


@pytest.mark.parametrize(
    ("zone", "kind", "what", "last"),
    [
        ("A", "foot", ["5"], None),
        ("A/B", "sledge", ["5"], None),
        ("A/B", "foot", ["5", "6"], None),
        ("A/B", "foot", ["many"], None),
        ("A/B", "foot", ["-5"], None),
        ("A/B", "foot", ["1,850"], None),
        ("A/B", "foot", ["5"], date(2026, 10, 1)),
    ],
)
def test_a_figure_that_cannot_be_is_refused(zone, kind, what, last):
    with pytest.raises(NotUnderstood):
        typed_traffic(zone, kind, what, date(2026, 11, 1), last, counted=True)
