import pytest

from floorcare.faces.cli.compare_command import compared_said
from floorcare.faces.documents.compare_words import answer
from tests.faces.cli.folders import TODAY_TEXT
from tests.faces.cli.terminal import everything_in, floorcare
from tests.golden.comparisons import COMPARED, EMPTY


def test_the_answer_stands_first_then_plans_then_sites_with_who_wins():
    lines = compared_said(COMPARED).splitlines()
    assert lines[0] == answer(COMPARED)
    (store,) = (line for line in lines if line.startswith("  STORE"))
    assert "3,000 / 1,000 / 5,000 EUR" in store
    assert "95 / 95 / 95 %" in store
    assert store.endswith("the calendar wins; measured wear wins")
    assert any(line.startswith("  measured wear ") for line in lines)


def test_nothing_to_compare_says_what_to_do():
    assert "Next: floorcare record reading" in compared_said(EMPTY)


@pytest.fixture(scope="module")
def written(demo, tmp_path_factory):
    folder = tmp_path_factory.mktemp("compare")
    return folder, floorcare(
        *("compare", "--db", demo.database, "--today", TODAY_TEXT, "--years", "1"),
        *("--futures", "4", "--site", "LIBRARY", "--out", folder),
    )


def test_a_site_is_compared_and_written_as_page_table_and_picture(written):
    folder, made = written
    assert (made.code, made.err) == (0, "")
    assert made.out.startswith("Measured wear costs ")
    names = {"compare-LIBRARY.html", "compare-LIBRARY.csv", "compare-LIBRARY.svg"}
    assert {path.name for path in folder.iterdir()} == names
    assert all(f"Written: {path}" in made.out for path in folder.iterdir())


def test_it_answers_as_json_and_writes_nothing(database):
    before = everything_in(database)
    made = floorcare(
        *("compare", "--years", "1", "--futures", "4", "--contract", "K-1"),
        *("--json", "--today", TODAY_TEXT),
    )
    assert made.code == 0
    compared = made.json["compared"]
    assert made.json["files"] == []
    assert [plan["way"] for plan in compared["groups"][0]["plans"]] == [
        "measured wear",
        "calendar as agreed",
        "calendar tuned in hindsight",
    ]
    assert everything_in(database) == before


def test_no_futures_are_refused_as_a_wrong_argument(database):
    made = floorcare("compare", "--futures", "0", "--today", TODAY_TEXT)
    assert made.code == 2
    assert "--futures" in made.err


def test_an_unknown_contract_is_named_with_those_there_are(database):
    made = floorcare("compare", "--contract", "C-NONE", "--today", TODAY_TEXT)
    assert made.code == 4
    assert "there are K-1" in made.err
