from dataclasses import replace

from floorcare.faces.documents.load_out_text import (
    TEXTS,
    as_text,
    machine_words,
    night_name,
    papers_of,
    product_words,
    tool_words,
)
from floorcare.ground.crews.load_out import PROTECTION
from tests.golden.loads import CLEANER, FIRST, LOADED, NIGHT, SECOND


def test_a_product_names_its_water_its_dilution_its_containers_and_the_estimate():
    said = product_words(CLEANER, "metric").replace("\xa0", " ")
    assert said == (
        "neutral cleaner 0.50 L with 64.0 L of water (1:128, parts to parts); "
        "take 1 × 10.0 L, estimate"
    )
    plain = replace(CLEANER, mixed="", pack_l=None, estimate=False)
    assert product_words(plain, "US").replace("\xa0", " ") == "neutral cleaner 0.13 gal"


def test_tools_come_in_whole_pieces_and_an_unknown_life_is_said():
    assert tool_words(FIRST.load.tools[0]) == "white pad: 1 piece (0.25 of a set)"
    unknown = "800-grit resin: 3 pieces (life not known, one set)"
    assert tool_words(SECOND.load.tools[0]) == unknown


def test_a_kind_without_a_machine_of_ours_is_to_be_found():
    owned, free = machine_words(NIGHT.load)
    assert owned == "Scrubber SC-1"
    assert free == "floor machine: none of ours is assigned, take one that is free"


def test_a_machine_on_the_site_is_said_to_stand_there():
    there = replace(FIRST.load.machines[0], stands_at="MARKET")
    load = replace(FIRST.load, machines=(there,))
    assert machine_words(load) == ["Scrubber SC-1: stands at MARKET already"]


def test_a_night_names_the_tank_the_papers_and_what_has_no_area():
    (night,) = as_text(LOADED)["nights"]
    rows = {row["name"]: [c.replace("\xa0", " ") for c in row["cells"]] for row in night["rows"]}
    assert rows["Water"] == [
        "64.0 L to mix with",
        "74.5 L of used water and slurry come back; one site at most 64.5 L",
        "Area not known, so nothing is counted for it: CLINIC/WARD",
    ]
    assert rows["Papers"] == papers_of(NIGHT)
    assert papers_of(NIGHT)[-1] == "night permit (CLINIC)"
    assert night_name(NIGHT) == "First van, Monday 2 March 2026"


def test_a_nights_only_stop_does_not_say_it_all_again():
    alone = replace(LOADED, nights=(replace(NIGHT, stops=(FIRST,)),))
    assert as_text(alone)["nights"][0]["stops"][0]["rows"] == []
    assert as_text(LOADED)["nights"][0]["stops"][0]["rows"]


def test_nothing_to_load_is_said():
    assert as_text(replace(LOADED, nights=()))["answer"].startswith("Nothing to load")


def test_every_protection_has_its_word():
    assert {code for codes in PROTECTION.values() for code in codes} <= TEXTS.keys()
