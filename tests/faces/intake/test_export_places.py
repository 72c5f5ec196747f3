import pytest

from floorcare.faces.intake.export_mapping import ExportMapping
from floorcare.faces.intake.export_places import (
    KnownPlaces,
    Place,
    PlaceNames,
    meter_codes,
    pattern_of,
    site_of,
)
from floorcare.faces.intake.unfit import Unfit
from floorcare.ground.trade.equipment import Instrument
from tests.faces.intake.exports import BOOKS
from tests.store.sample import with_zone

KNOWN = KnownPlaces(BOOKS)


def names(**said):
    return PlaceNames(KNOWN, ExportMapping("readings", said))


def test_a_place_is_found_without_case():
    assert KNOWN.place("north/Lane/p1") == Place("NORTH", "LANE", "P1")
    assert KNOWN.place("NORTH\\LANE") == Place("NORTH", "LANE")
    assert Place("NORTH", "LANE", "P1").said == "NORTH/LANE"


@pytest.mark.parametrize("text", ["NORTH", "NORTH/LOFT/P1", "A/B/C/D", "NORTH//P1", ""])
def test_a_place_nobody_knows_is_refused(text):
    with pytest.raises(Unfit):
        KNOWN.place(text)


def test_a_station_of_another_zone_is_told_as_such():
    north, south = BOOKS
    edge = north.zones[0]
    moved = with_zone(north, stations=(*edge.stations, type(edge.stations[0])(code="Q7")))
    known = KnownPlaces((moved, south))
    other = moved.zones[1].zone.code
    with pytest.raises(Unfit, match=f"not one of NORTH/{other} but of NORTH/{edge.zone.code}"):
        known.place(f"NORTH/{other}/Q7")


def test_a_station_nobody_knows_is_told_with_those_that_are_known():
    with pytest.raises(Unfit) as wrong:
        KNOWN.place("NORTH/LANE/P9")
    assert "P1, P2" in wrong.value.allowed


def test_a_zone_without_stations_takes_those_that_are_read():
    bare = with_zone(BOOKS[1], stations=())
    assert KnownPlaces((bare,)).place("SOUTH/LANE/7") == Place("SOUTH", "LANE", "7")


def test_free_names_are_mapped_whole_or_with_their_station_left_as_it_is():
    found = names(places={"By the door": "NORTH/LANE/P1", "Long hall": "NORTH/LANE", "Yard": ""})
    assert found.place("By the door") == Place("NORTH", "LANE", "P1")
    assert found.place("Long hall/P2") == Place("NORTH", "LANE", "P2")
    assert found.place("Yard") is None
    assert found.place("Yard/P1") is None
    for _ in range(2):
        with pytest.raises(Unfit):
            found.place("Attic")


def test_a_pattern_takes_names_apart():
    found = names(pattern={"place": "{site}-{zone}-point {station}"})
    assert found.place("NORTH-LANE-point P2") == Place("NORTH", "LANE", "P2")
    assert names(pattern={"place": "{zone}@{site}"}).place("LANE@SOUTH") == Place("SOUTH", "LANE")
    assert found.place("NORTH/LANE/P1") == Place("NORTH", "LANE", "P1")


@pytest.mark.parametrize("shape", ["{site}", "{zone}-{zone}-{site}", "plain"])
def test_a_pattern_without_site_and_zone_is_none(shape):
    with pytest.raises(Unfit):
        pattern_of(shape)


def test_meters_are_known_by_code_serial_and_the_mappings_words():
    meters = (
        Instrument(code="M1", name="One", measure="gloss", serial="G 1001"),
        Instrument(code="M2", name="Two", measure="gloss", serial="S"),
        Instrument(code="M3", name="Three", measure="gloss", serial="S"),
    )
    codes = meter_codes(meters, {"the old one": "M2"})
    assert (codes["m1"], codes["g1001"], codes["theoldone"]) == ("M1", "M1", "M2")
    assert "s" not in codes


def test_places_of_a_site():
    assert site_of(["A/X", "B/Y"], "A") == ["A/X"]
