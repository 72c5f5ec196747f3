"""The condition of every zone: one page to read, CSV and XLSX to reckon with."""

from collections import Counter
from urllib.parse import quote

from floorcare.faces.documents import wording
from floorcare.faces.documents.cells import Row, csv_bytes, xlsx_bytes
from floorcare.faces.documents.pages import page
from floorcare.ground.trade.zone import spoken_name
from floorcare.services.sheets import ConditionRow, ConditionTable

STRIP_WIDTH = 120.0
"""Width in units of the strip on which a zone's band, estimate and promise are drawn."""
STRIP_STEP_GU = 5.0
"""The strip's ends lie on whole steps, so that its scale can be said in the heading."""


def write_condition_html(table: ConditionTable) -> bytes:
    """The table as one self-contained HTML page without scripts."""
    low, high = _strip_ends(table)
    words = {
        "title": f"Condition of the floors, {table.branch}, {wording.day_words(table.on)}",
        "heading": wording.heading(table.contractor, table.branch),
        "branch": table.branch,
        "day": wording.day_words(table.on),
        "answer": answer(table),
        "as_of": f"As of {table.as_of}" if table.as_of else "",
        "strip_from": f"{low:.0f}",
        "strip_to": f"{high:.0f}",
        "rows": [_words(row, table, (low, high)) for row in table.rows],
        "alarms": [
            {"says": alarm.says, "asks": alarm.asks, "mend": alarm.mend} for alarm in table.alarms
        ],
    }
    return page("condition_table.html", table=words)


def write_condition_csv(table: ConditionTable) -> bytes:
    """The table as CSV, figures as numbers, shares as per cent."""
    return csv_bytes(_header(table), (_row(row, table) for row in table.rows))


def write_condition_xlsx(table: ConditionTable) -> bytes:
    """The table as a workbook of one sheet, the same cells as the CSV."""
    return xlsx_bytes(
        "Condition", _header(table), (_row(row, table) for row in table.rows), table.on
    )


def answer(table: ConditionTable) -> str:
    """The floors in one sentence."""
    if not table.rows:
        return "No zones are under care."
    below = sum(row.is_below_promise for row in table.rows)
    kinds = Counter(row.evidence for row in table.rows)
    known = ", ".join(f"{number:,} {kind}" for kind, number in kinds.items())
    parts = [wording.count(len(table.rows), "zone"), f"{below or 'none'} below promise today"]
    return f"{parts[0]}; {parts[1]}; {known}."


def _words(
    row: ConditionRow, table: ConditionTable, ends: tuple[float, float]
) -> dict[str, object]:
    return {
        "zone": row.zone,
        "name": spoken_name(row.area_name, row.zone_name),
        "surface": row.surface,
        "area": "" if row.area_m2 is None else wording.area_words(row.area_m2, table.units),
        "traffic": row.traffic,
        "reading": wording.gloss_words(row.reading_gu),
        "read_on": _dated(row),
        "evidence": row.evidence,
        "gloss": wording.gloss_words(row.gloss_gu),
        "band": _band(row),
        "promise": wording.gloss_words(row.promise_gu),
        "share": "" if row.share is None else f"now {100 * row.share:.0f} % of reference",
        "below": row.is_below_promise,
        "next_work": row.next_work or "nothing planned",
        "next_night": wording.day_short(row.next_night) if row.next_night else "",
        "nights": row.nights_to_promise,
        "reason": row.reason,
        "chart": quote(row.chart),
        "strip": _strip(row, ends),
    }


def _dated(row: ConditionRow) -> str:
    if row.reading_on is None:
        return ""
    return wording.day_words(row.reading_on).split(" ", 1)[1]


def _band(row: ConditionRow) -> str:
    if row.low_gu is None or row.high_gu is None:
        return ""
    return f"{row.low_gu:.0f} to {row.high_gu:.0f}"


def _strip_ends(table: ConditionTable) -> tuple[float, float]:
    drawn = [
        gu
        for row in table.rows
        for gu in (row.low_gu, row.gloss_gu, row.high_gu, row.promise_gu)
        if gu is not None
    ]
    low = STRIP_STEP_GU * (min(drawn, default=0.0) // STRIP_STEP_GU)
    high = STRIP_STEP_GU * (max(drawn, default=100.0) // STRIP_STEP_GU + 1)
    return low, high


def _strip(row: ConditionRow, ends: tuple[float, float]) -> dict[str, str] | None:
    if row.gloss_gu is None or row.low_gu is None or row.high_gu is None:
        return None
    marks = {"gloss": row.gloss_gu, "low": row.low_gu, "high": row.high_gu}
    if row.promise_gu is not None:
        marks["promise"] = row.promise_gu
    low, high = ends
    scale = STRIP_WIDTH / (high - low)
    return {name: f"{(gu - low) * scale:.1f}" for name, gu in marks.items()}


def _header(table: ConditionTable) -> tuple[str, ...]:
    return (
        *("zone", "area name", "zone name", "surface", f"area {wording.area_unit(table.units)}"),
        *("traffic", "last reading GU", "read on", "evidence", "gloss now GU", "low 90 % GU"),
        *("high 90 % GU", "promise GU", "share of reference %", "below promise", "next work"),
        *("next night", "nights to promise", "why"),
    )


def _row(row: ConditionRow, table: ConditionTable) -> Row:
    area = None if row.area_m2 is None else wording.area_figure(row.area_m2, table.units)
    nights = row.nights_to_promise
    return (
        *(row.zone, row.area_name, row.zone_name, row.surface, area, row.traffic),
        *(_tenths(row.reading_gu), row.reading_on, row.evidence),
        *(_tenths(row.gloss_gu), _tenths(row.low_gu), _tenths(row.high_gu)),
        _tenths(row.promise_gu),
        None if row.share is None else round(100 * row.share, 1),
        *("yes" if row.is_below_promise else "no", row.next_work, row.next_night),
        *(int(nights) if nights.isascii() and nights.isdigit() else nights, row.reason),
    )


def _tenths(gloss_gu: float | None) -> float | None:
    return None if gloss_gu is None else round(gloss_gu, 1)
