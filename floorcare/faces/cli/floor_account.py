"""What `floors` says: every zone in columns, or one zone in full."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.faces.documents import condition_table, wording
from floorcare.faces.documents.wording import gloss_words
from floorcare.faces.documents.zone_chart_words import answer, name
from floorcare.services.sheets import ConditionRow, ConditionTable, Units


def floors_said(
    tables: Sequence[ConditionTable], paths: Iterable[Path], *, in_full: bool = False
) -> str:
    """Every zone's condition, and which files hold it."""
    lines: list[str] = [] if tables else [NO_BRANCH]
    for table in tables:
        lines += (
            [line for row in table.rows for line in _zone(row, table.units)]
            if in_full
            else (_columns(table))
        )
        lines += _alarms(table)
        lines.append("")
    if not in_full and any(row.haze_times for table in tables for row in table.rows):
        lines += [
            "haze, wear: how many times as fast as its surface usually does the zone gains haze, "
            "and loses film and finish.",
            "",
        ]
    lines += [f"Written: {path}" for path in paths]
    charts = [row.chart for table in tables for row in table.rows if row.chart]
    if charts:
        more = f" and {len(charts) - 1:,} more" if len(charts) > 1 else ""
        lines.append(f"Written beside them: {charts[0]}{more}")
    return "\n".join(lines).rstrip()


def _columns(table: ConditionTable) -> list[str]:
    lines = [f"{table.branch}: {condition_table.answer(table)}", ""]
    lines.append(
        f"  {'zone':34}{'read':>6}{'now':>6}{'90 % band':>12}{'promise':>9}{'share':>7}"
        f"{'haze':>7}{'wear':>7}  {'nights left':14}{'evidence':14}next"
    )
    for row in table.rows:
        band = f"{row.low_gu:.0f} to {row.high_gu:.0f}" if row.low_gu and row.high_gu else "–"
        following = f"{row.next_work} {row.next_night}" if row.next_night else ""
        lines.append(
            f"  {row.zone[:33]:34}{gloss_words(row.reading_gu):>6}"
            f"{gloss_words(row.gloss_gu):>6}{band:>12}{gloss_words(row.promise_gu):>9}"
            f"{f'{row.share:.0%}' if row.share else '–':>7}"
            f"{_times(row.haze_times):>7}{_times(row.wear_times):>7}"
            f"  {row.nights_to_promise:14}{row.evidence:14}{following}"
        )
    return lines


def _alarms(table: ConditionTable) -> list[str]:
    """What a person should look at; nothing of it has changed a plan."""
    if not table.alarms:
        return []
    return ["", "To look at (no plan was changed):", *(f"  {alarm}" for alarm in table.alarms)]


def _zone(row: ConditionRow, units: Units) -> list[str]:
    floor = ", ".join(
        (row.surface, wording.area_words(row.area_m2, units), f"traffic {row.traffic}")
    )
    told = [("floor", floor)]
    if row.reading_gu is not None and row.reading_on is not None:
        told.append(("read", f"{row.reading_gu:.0f} GU on {wording.day_words(row.reading_on)}"))
    if row.haze is not None and row.film is not None and row.scratch is not None:
        told.append(
            ("state", f"haze {row.haze:.2f}, film {row.film:.2f}, scratch {row.scratch:.2f}")
        )
    if row.haze_times is not None and row.wear_times is not None:
        told.append(
            (
                "rates",
                f"wears {_times(row.haze_times)} the surface's usual haze, "
                f"{_times(row.wear_times)} its usual film and finish",
            )
        )
    if row.bands:
        bands = (f"{100 * b.level:.0f} % {b.low_gu:.0f} to {b.high_gu:.0f}" for b in row.bands)
        told.append(("bands", "; ".join(bands) + " GU"))
    if row.reason:
        told.append(("why", row.reason))
    head = f"{row.zone}, {name(row)}: {answer(row)}".replace("\N{NO-BREAK SPACE}", " ")
    return [head, *(f"  {what:7}{words}" for what, words in told)]


def _times(factor: float | None) -> str:
    return f"{factor:.1f} ×" if factor is not None else "–"
