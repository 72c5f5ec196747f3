"""What the backtest's page and table say."""

import csv
import io
from dataclasses import replace

import pytest

from floorcare.faces.documents.backtest_page import (
    MEANING,
    answer,
    behind,
    tables,
    verdict,
    write_backtest_csv,
    write_backtest_html,
)
from floorcare.ground.wear.trial.backtest import Score
from tests.golden.backtests import BACKTEST, EMPTY, scored


def test_the_first_line_says_how_far_off_and_whether_bands_are_honest():
    assert answer(BACKTEST) == (
        "Up to 90 days ahead the forecast was 1.8 GU off on average (pooled regression 2.1, "
        "last value 3.1, exponential fit 3.4, trend 3.8); its 90 % bands held 88% of the "
        "readings: honest."
    )
    assert answer(EMPTY) == "No reading of these months could be hidden and forecast."


def test_what_stands_behind_it_is_told_with_what_could_not_be_forecast():
    assert "1,269 forecasts" in behind(BACKTEST)
    assert "2 readings not forecast" in behind(BACKTEST)
    assert "not forecast" not in behind(replace(BACKTEST, without=0))


@pytest.mark.parametrize(
    ("readings", "inside", "said"),
    [
        (9, 0.5, "too few to say"),
        (10, 0.9, "honest"),
        (472, 0.85, "honest"),
        (472, 0.95, "honest"),
        (472, 0.84, "too narrow"),
        (472, 0.96, "too wide"),
        (40, 0.82, "perhaps narrow"),
        (20, 1.0, "perhaps wide"),
        (40, 0.80, "too narrow"),
    ],
)
def test_bands_are_called_what_so_many_readings_allow(readings, inside, said):
    assert verdict(scored(readings, inside=(0.5, 0.8, inside))) == said


def test_tables_end_totals_at_ninety_days_and_tell_the_rest_apart():
    (_, first, rows), *groups = tables(BACKTEST)
    assert first == "days ahead"
    assert [name for name, _ in rows] == [
        *("1 to 30", "31 to 60", "61 to 90", "1 to 90"),
        "91 to 180, apart",
    ]
    assert [kind for _, kind, _ in groups] == ["surface", "class", "evidence"]
    assert groups[0][2][0][0] == "polished concrete"


def test_the_csv_has_a_line_a_forecast_with_its_figures():
    text = write_backtest_csv(BACKTEST).decode("utf-8-sig")
    (row,) = csv.DictReader(io.StringIO(text))
    one = BACKTEST.forecasts[0]
    assert (row["zone"], row["forecast on"]) == (one.zone, one.origin.isoformat())
    assert float(row["reading GU"]) == one.read_gu
    assert float(row["low 90% GU"]) == one.lows[2]
    assert float(row["pooled regression GU"]) == one.rivals[3]


def test_the_page_holds_every_table_and_marks_classes_too_small():
    page = write_backtest_html(BACKTEST).decode()
    assert page.count("<table") == 4
    assert "too few to say" in page
    assert '<tr class="few">' in page
    assert all(line.split(":")[0] in page for line in MEANING)


def test_a_score_of_nothing_is_shown_as_nothing():
    none = Score(
        readings=0, forecasts=0, mean_error_gu=None, bias_gu=None, inside=None, rivals_gu=None
    )
    far = replace(BACKTEST.whole, horizons=(*BACKTEST.whole.horizons[:3], none))
    page = write_backtest_html(replace(BACKTEST, whole=far)).decode()
    assert '<td class="figure">–</td>' in page
    assert write_backtest_html(EMPTY).decode().count("<h1>") == 1
