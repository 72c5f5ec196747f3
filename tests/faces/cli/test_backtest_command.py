import pytest

from floorcare.faces.cli.backtest_command import backtest_said
from floorcare.faces.documents.backtest_page import answer
from tests.faces.cli.folders import TODAY_TEXT
from tests.faces.cli.terminal import everything_in, floorcare
from tests.golden.backtests import BACKTEST, EMPTY


def test_the_answer_stands_first_and_small_classes_are_shown_with_a_word_of_caution():
    lines = backtest_said(BACKTEST).splitlines()
    assert lines[0] == answer(BACKTEST)
    (small,) = (line for line in lines if line.startswith("  terrazzo"))
    assert small.split()[1] == "9"
    assert "too few to say" in small
    (far,) = (line for line in lines if line.startswith("  91 to 180, apart"))
    assert far.split()[-4:] == ["3.1", "3.8", "3.4", "2.1"]


def test_nothing_to_hold_against_says_what_to_do():
    assert "Next: floorcare record reading" in backtest_said(EMPTY)


@pytest.fixture(scope="module")
def written(demo, tmp_path_factory):
    folder = tmp_path_factory.mktemp("backtest")
    return folder, floorcare(
        *("backtest", "--db", demo.database, "--today", TODAY_TEXT),
        *("--months", "2", "--surface", "terrazzo", "--out", folder),
    )


def test_the_sample_is_forecast_and_written_as_page_and_csv(written):
    folder, made = written
    assert (made.code, made.err) == (0, "")
    assert made.out.startswith("Up to 90 days ahead the forecast was ")
    assert {path.name for path in folder.iterdir()} == {
        "backtest-terrazzo.html",
        "backtest-terrazzo.csv",
    }
    assert all(f"Written: {path}" in made.out for path in folder.iterdir())


def test_it_answers_as_json_and_writes_nothing(database):
    before = everything_in(database)
    made = floorcare("backtest", "--months", "2", "--json", "--today", TODAY_TEXT)
    assert made.code == 0
    whole = made.json["backtest"]
    assert made.json["files"] == []
    assert whole["rivals"] == ["last value", "trend", "exponential fit", "pooled regression"]
    assert len(whole["whole"]["horizons"]) == 4
    assert len(whole["origins"]) == 2
    assert everything_in(database) == before


def test_an_unknown_site_is_named_with_those_there_are(database):
    made = floorcare("backtest", "--site", "ELSEWHERE", "--today", TODAY_TEXT)
    assert made.code == 4
    assert 'no site "ELSEWHERE"' in made.err
