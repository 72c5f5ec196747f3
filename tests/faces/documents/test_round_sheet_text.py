from dataclasses import replace

from floorcare.faces.documents.round_sheet_text import answer, as_text
from tests.golden.rounds import ROUND


def test_the_answer_counts_zones_sites_minutes_and_what_is_left():
    assert answer(ROUND) == (
        "4 zones at 2 sites to read by Monday 2 March 2026, 38 of 60 min; 1 zone left unread."
    )
    assert answer(replace(ROUND, left=())).endswith("38 of 60 min; none left.")


def test_a_round_without_zones_says_why():
    none = replace(ROUND, sites=(), budget_minutes=10)
    assert answer(none) == "No zone fits into 10 min; the first takes 12 min."
    assert answer(replace(none, left=())) == "No zone has a promised look, so none is read."
    anyway = replace(none, left=(), read_anyway=ROUND.left)
    assert answer(anyway) == "Planned visits read every zone by then."


def test_stations_keep_their_codes_and_unmarked_ones_are_numbered():
    words = as_text(ROUND)
    clinic, market = words["sites"]
    assert [s["station"] for s in clinic["zones"][0]["stations"]] == ["1", "2", "3", "4", "5"]
    assert market["zones"][0]["stations"] == [
        {"station": "P1", "note": "by the <door>"},
        {"station": "P2", "note": ""},
    ]
    assert clinic["where"] == "4 Linden Row. Ring at the north gate"
    assert market["where"] == ""


def test_the_sheet_says_neither_why_nor_when_last_nor_what_is_left():
    said = repr(as_text(ROUND))
    for zone in ROUND.zones:
        assert zone.reason not in said
        assert str(zone.last_read_on) not in said
    assert "STAGE" not in said
