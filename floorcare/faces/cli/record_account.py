"""What `record` says: what was read, what became of it, and what was left out."""

from collections.abc import Sequence
from datetime import date

from floorcare.faces.documents.wording import count
from floorcare.faces.intake.export_readings import MeterExport
from floorcare.faces.intake.export_traffic import CounterExport
from floorcare.ground.rules.reasons import said
from floorcare.ground.trade.reading import Measure, RoundValue
from floorcare.ground.wear.books.last_rounds import RoundRead
from floorcare.services.record_readings import RecordedReadings
from floorcare.services.record_traffic import RecordedTraffic

MOST_ROUNDS = 12
"""More rounds are counted, not named; --json names them."""


def readings(export: MeterExport, recorded: RecordedReadings, *, check: bool) -> str:
    """What became of a meter's export."""
    lines = [
        f"{count(export.rows, 'row')} read; {count(recorded.written, 'reading')} "
        f"{_fate(recorded.written, check=check)}."
    ]
    lines += _counts(
        (recorded.known, "known already, skipped"),
        (export.repeated, "repeated in the file, skipped"),
        (recorded.left_out, "left out and told below"),
        (export.left_out, "rows left out by the mapping"),
    )
    lines += _unread(export.unread)
    lines += [f"  {round_said(one)}" for one in recorded.rounds[:MOST_ROUNDS]]
    if len(recorded.rounds) > MOST_ROUNDS:
        lines.append(
            f"  … and {len(recorded.rounds) - MOST_ROUNDS:,} more rounds (--json names all)"
        )
    return "\n".join([*lines, *_next(recorded.written, check=check)])


def readings_told(
    export: MeterExport, recorded: RecordedReadings, *, check: bool
) -> dict[str, object]:
    """The same as named values."""
    return {
        "written": 0 if check else recorded.written,
        "to_write": recorded.written,
        "known": recorded.known,
        "readings_left_out": recorded.left_out,
        "rounds": recorded.rounds,
        "changes": recorded.changes,
        **_export_told(export),
    }


def traffic_told(
    export: CounterExport | None, recorded: RecordedTraffic, *, check: bool
) -> dict[str, object]:
    """What became of counts, as named values."""
    return {
        "written": 0 if check else len(recorded.rows),
        "to_write": len(recorded.rows),
        "known": recorded.known,
        "traffic": [{"zone": zone, "row": row} for zone, row in recorded.rows],
        "days": recorded.days,
        "days_left_out": recorded.left_out,
        "changes": recorded.changes,
        **(_export_told(export) if export else {}),
    }


def _export_told(export: MeterExport | CounterExport) -> dict[str, object]:
    return {
        "rows": export.rows,
        "repeated": export.repeated,
        "rows_left_out": export.left_out,
        "unread": export.unread,
        "mapping": export.mapping.tables,
    }


def round_said(one: RoundRead) -> str:
    """A round beside the last of its kind."""
    now = f"{one.zone} {_what(one.now)} {one.now.state}"
    if one.last is None:
        return f"{now}: {_value(one.now)} on {said(one.now.on)}, the first of its kind"
    return (
        f"{now}: last {_value(one.last)} on {said(one.last.on)}; now {_value(one.now)} on "
        f"{said(one.now.on)}"
    )


def traffic(export: CounterExport | None, recorded: RecordedTraffic, *, check: bool) -> str:
    """What became of counts."""
    rows = len(recorded.rows)
    fate = f"{count(rows, 'row')} of traffic {_fate(rows, check=check)}."
    if export is None:
        lines = [fate[0].upper() + fate[1:]]
    else:
        days = count(recorded.days, "counted day")
        lines = [f"{count(export.rows, 'row')} read, {days} averaged; {fate}"]
        lines += _counts(
            (recorded.known, "averages known already, skipped"),
            (export.repeated, "rows repeated in the file, skipped"),
            (recorded.left_out, "left out of the counted days and told below"),
            (export.left_out, "rows left out by the mapping"),
        )
        lines += _unread(export.unread)
    if export is None and recorded.known:
        lines.append("  It stands already as it is.")
    for zone, row in recorded.rows:
        how = f"{'counted' if row.counted else 'estimated'}, {_days(row.from_on, row.to_on)}"
        lines.append(f"  {zone} {row.kind}: {row.per_day:,.1f} a day, {how}")
    kept = [c for c in recorded.changes if c.what in ("ended", "changed", "withdrawn")]
    if kept:
        lines.append("  What stood gives way:")
        for change in kept:
            fields = "; ".join(
                f"{name} {before or 'empty'} → {after or 'empty'}"
                for name, before, after in change.fields
                if name not in ("origin", "withdrawn")
            )
            lines.append(f"    {change.what:10}{change.key}{': ' if fields else ''}{fields}")
    return "\n".join([*lines, *_next(rows, check=check)])


def _fate(many: int, *, check: bool) -> str:
    if not many:
        return "to write" if check else "written"
    return "would be written" if check else "written"


def _counts(*counted: tuple[int, str]) -> list[str]:
    told = [f"{many:,} {what}" for many, what in counted if many]
    return [f"  {'; '.join(told)}."] if told else []


def _unread(headings: Sequence[str]) -> list[str]:
    return [f"  Columns nothing is read from: {', '.join(headings)}."] if headings else []


def _next(many: int, *, check: bool) -> list[str]:
    if not many:
        return []
    return ["", f"Next: {'the same without --check' if check else 'floorcare plan'}"]


def _what(one: RoundValue) -> str:
    return f"{one.measure} {one.geometry_deg}°" if one.geometry_deg else str(one.measure)


def _value(one: RoundValue) -> str:
    unit = " GU" if one.measure is Measure.GLOSS else ""
    return f"{one.value:.1f}{unit}"


def _days(first: date, last: date | None) -> str:
    return f"{said(first)} to {said(last)}" if last else f"from {said(first)} on"
