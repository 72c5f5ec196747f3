"""How far off the forecast was: one page to read, CSV to reckon with."""

from collections.abc import Iterator
from math import sqrt

from floorcare.faces.documents import wording
from floorcare.faces.documents.cells import Row, csv_bytes
from floorcare.faces.documents.pages import page
from floorcare.ground.rules.reasons import said
from floorcare.ground.wear.trial.backtest import BAND_OFF, NEAR_DAYS, Score
from floorcare.services.backtest_wear import Backtest, ForecastHeld, GroupScore

KIND_WORDS = {
    "surface": "by surface",
    "class": "by traffic and footfall",
    "evidence": "by evidence on the day of the forecast",
}
ORDINARY_BAND = 0.90
"""The band everything else in the program shows."""


def write_backtest_html(backtest: Backtest) -> bytes:
    """The scores as one self-contained HTML page without scripts."""
    words = {
        "title": f"How far off the forecast was, {wording.day_words(backtest.today)}",
        "day": wording.day_words(backtest.today),
        "answer": answer(backtest),
        "behind": behind(backtest),
        "rivals": backtest.rivals,
        "tables": [
            {
                "heading": heading,
                "first": first,
                "rows": [_words(name, one) for name, one in rows],
            }
            for heading, first, rows in tables(backtest)
            if rows
        ],
        "meaning": MEANING,
    }
    return page("backtest.html", backtest=words)


def write_backtest_csv(backtest: Backtest) -> bytes:
    """Every forecast with the reading that came, one a line."""
    bands = [f"{side} {level:.0%} GU" for level in backtest.levels for side in ("low", "high")]
    header = (
        *("surface", "zone", "traffic", "footfall", "evidence", "forecast on", "read on"),
        *("days ahead", "state", "stations", "reading GU", "forecast GU", *bands),
        *(f"{rival} GU" for rival in backtest.rivals),
    )
    return csv_bytes(header, (_row(forecast) for forecast in backtest.forecasts))


def answer(backtest: Backtest) -> str:
    """How far off the forecast is, and whether its bands are honest, in one sentence."""
    whole = backtest.whole.whole
    if whole.mean_error_gu is None or whole.inside is None or whole.rivals_gu is None:
        return "No reading of these months could be hidden and forecast."
    order = sorted(zip(whole.rivals_gu, backtest.rivals, strict=True))
    beside = ", ".join(f"{name} {off:.1f}" for off, name in order)
    return (
        f"Up to {NEAR_DAYS} days ahead the forecast was {whole.mean_error_gu:.1f} GU off on "
        f"average ({beside}); its 90 % bands held {whole.inside[-1]:.0%} of the readings: "
        f"{verdict(whole)}."
    )


def behind(backtest: Backtest) -> str:
    """What stands behind the answer."""
    whole = backtest.whole.whole
    days = backtest.origins
    parts = [
        f"{wording.count(whole.readings, 'reading')}, each hidden and forecast from up to three of "
        f"{wording.count(len(days), 'day')}, {said(days[0])} to {said(days[-1])}: "
        f"{wording.count(whole.forecasts, 'forecast')}."
    ]
    if backtest.without:
        parts.append(
            f"{wording.count(backtest.without, 'reading')} not forecast: nothing was read in the "
            "zone before."
        )
    return " ".join(parts)


def verdict(score: Score) -> str:
    """Whether the 90 % bands are honest, in a word or two; "perhaps" where chance may explain it.

    >>> verdict(Score(readings=4, forecasts=4, mean_error_gu=1.0, bias_gu=0.0,
    ...               inside=(0.5, 0.8, 0.9), rivals_gu=()))
    'too few to say'
    """
    if score.inside is None or score.few:
        return "too few to say"
    off = score.inside[-1] - ORDINARY_BAND
    if abs(off) <= BAND_OFF + 1e-9:
        return "honest"
    chance = 2.0 * sqrt(ORDINARY_BAND * (1.0 - ORDINARY_BAND) / score.readings)
    way = "narrow" if off < 0 else "wide"
    return f"too {way}" if abs(off) > chance else f"perhaps {way}"


def tables(backtest: Backtest) -> Iterator[tuple[str, str, list[tuple[str, Score]]]]:
    """(heading, first column, rows) of every table: by days ahead, then each kind of group."""
    named = [f"{first} to {last}" for first, last in backtest.days_ahead]
    whole = backtest.whole
    near = len(backtest.days_ahead) - 1
    rows = [*zip(named[:near], whole.horizons, strict=False), (f"1 to {NEAR_DAYS}", whole.whole)]
    yield "by days ahead", "days ahead", [*rows, (f"{named[near]}, apart", whole.horizons[near])]
    for kind, heading in KIND_WORDS.items():
        groups: list[GroupScore] = [group for group in backtest.groups if group.kind == kind]
        yield (
            f"{heading}, up to {NEAR_DAYS} days ahead",
            kind,
            [(group.name.replace("_", " "), group.whole) for group in groups],
        )


MEANING = (
    "off: mean absolute difference of forecast and reading, GU; bias: mean of forecast less "
    "reading, above 0 where the forecast was too high.",
    "in band: share of the readings inside the bands of 50, 80 and 90 %. A reading has an error "
    "of its own: it is in the bands, and no forecast comes nearer than it allows.",
    "Treatments between forecast and reading are taken as they were recorded; a reading forecast "
    "from several days counts from each. Beyond 90 days is told apart and in no total.",
    "90 % bands: honest where they hold 85 to 95 %; perhaps narrow or wide where chance may "
    "explain the miss (two sd of so many readings); fewer than ten readings say nothing.",
    "The last four columns are what other ways of forecasting were off on the same readings.",
)


def _words(name: str, score: Score) -> dict[str, object]:
    empty = score.mean_error_gu is None
    return {
        "name": name,
        "readings": f"{score.readings:,}",
        "off": "–" if empty else f"{score.mean_error_gu:.1f}",
        "bias": "–" if empty else f"{score.bias_gu:+z.1f}",
        "inside": [f"{share:.0%}" for share in score.inside or ()] or ["–"] * 3,
        "rivals": [f"{off:.1f}" for off in score.rivals_gu or ()] or ["–"] * 4,
        "verdict": verdict(score),
        "few": score.few,
    }


def _row(one: ForecastHeld) -> Row:
    bands = [round(gu, 2) for pair in zip(one.lows, one.highs, strict=True) for gu in pair]
    return (
        *(one.surface, one.zone, one.traffic, "counted" if one.counted else "by level"),
        *(one.evidence, one.origin, one.read_on, one.days_ahead, one.state, one.stations),
        *(round(one.read_gu, 2), round(one.forecast_gu, 2), *bands),
        *(round(gu, 2) for gu in one.rivals),
    )
