"""A people counter's export: any table of counts, by a mapping, into counted days of zones."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from floorcare.faces.intake.export_buckets import (
    Bucket,
    Buckets,
    apart,
    bucket_length,
    days_of,
    once,
)
from floorcare.faces.intake.export_cells import decimal_of, number_text
from floorcare.faces.intake.export_columns import Columns, Moments, moments_of
from floorcare.faces.intake.export_headings import (
    known_headings,
    proposed,
    role_of,
    unread_headings,
)
from floorcare.faces.intake.export_mapping import TRAFFIC, ExportMapping, ExportNotes, Question
from floorcare.faces.intake.export_places import LEFT_OUT, KnownPlaces, Place
from floorcare.faces.intake.export_table import ExportTable, read_table
from floorcare.faces.intake.numeral import possible_numbers
from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.unfit import Unfit, read_once
from floorcare.findings import Finding
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.traffic import PASS_WEIGHT
from floorcare.ground.wear.books.counts import DayCount
from floorcare.services.record_traffic import ZoneCounts

ROWS_PER_TELL = 5_000
ONE_SENSOR = "the counter"
"""What a file without a column of sensors is of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CounterExport:
    """What a counter's export holds.

    counts : by zone and kind, none while a question is open.
    mapping, questions : what was understood, and what is still to be answered.
    rows : of the table; repeated : rows that stand twice; left_out : on purpose, by the mapping.
    """

    counts: tuple[ZoneCounts, ...] = ()
    findings: tuple[Finding, ...] = ()
    mapping: ExportMapping
    questions: tuple[Question, ...] = ()
    rows: int = 0
    repeated: int = 0
    left_out: int = 0
    unread: tuple[str, ...] = ()


def read_counter_export(
    path: Path,
    mapping: ExportMapping,
    books: Sequence[SiteBook],
    *,
    tell: Callable[[int, int], None] = lambda done, total: None,  # noqa: ARG005
) -> CounterExport:
    """Read a counter's export by its mapping and, where that is silent, by its headings.

    Parameters
    ----------
    books : the zones that are known.
    tell : called now and then with rows read and rows in all.
    """
    notes = ExportNotes(path.name)
    named = known_headings(TRAFFIC, mapping)
    table = read_table(path, mapping, lambda h: h in named or bool(role_of(TRAFFIC, h)), notes)
    if table is None:
        return _answer(notes, mapping)
    mapping = _counted_columns(table, proposed(table, mapping, notes), notes)
    columns = Columns(table, mapping)
    found = moments_of(table, columns, mapping, notes)
    decimal_of(table, _headings(columns), mapping, notes)
    if found is None or notes.stops:
        return _answer(notes, found[1] if found else mapping, table)
    return _read_rows(table, columns, found[0], found[1], KnownPlaces(books), notes, tell)


def _read_rows(
    table: ExportTable,
    columns: Columns,
    moments: Moments,
    mapping: ExportMapping,
    known: KnownPlaces,
    notes: ExportNotes,
    tell: Callable[[int, int], None],
) -> CounterExport:
    places = _sensors(table, columns, mapping, known, notes)
    reader = _Reader(columns, moments, mapping, notes, known.time_zone)
    buckets: Buckets = {}
    left_out = 0
    for done, (row, cells) in enumerate(table.rows, start=1):
        sensor = columns.text(cells, "sensor") or ONE_SENSOR
        place = places.get(sensor)
        if place is None:
            left_out += sensor in places
        else:
            bucket = reader.bucket(row, cells, place.site)
            if bucket is not None:
                buckets.setdefault(sensor, []).append(bucket)
        if done % ROWS_PER_TELL == 0:
            tell(done, len(table.rows))
    tell(len(table.rows), len(table.rows))
    buckets, repeated = once(buckets, mapping, notes)
    buckets = apart(buckets, mapping, notes)
    mapping = bucket_length(buckets, mapping, notes)
    counts = _by_zone(buckets, {s: p for s, p in places.items() if p}, mapping, notes)
    answer = _answer(notes, mapping, table)
    if notes.stops:
        return answer
    return replace(answer, counts=counts, repeated=repeated, left_out=left_out)


def _answer(
    notes: ExportNotes, mapping: ExportMapping, table: ExportTable | None = None
) -> CounterExport:
    return CounterExport(
        findings=notes.findings(),
        mapping=mapping,
        questions=tuple(notes.questions),
        rows=len(table.rows) if table else 0,
        unread=tuple(unread_headings(table, mapping)) if table else (),
    )


def _headings(columns: Columns) -> list[str]:
    return [columns.heading[role] for role in ("count", "in", "out") if columns.has(role)]


def _counted_columns(
    table: ExportTable, mapping: ExportMapping, notes: ExportNotes
) -> ExportMapping:
    """Ask how in and out make passes, where both are there and nobody has said."""
    there = [role for role in ("in", "out", "count") if mapping.get("columns", role)]
    if not there:
        question = Question("columns", "count", tuple(filter(None, table.heading)))
        notes.ask(question, "no column is known to hold the count", row=table.heading_row)
    if len(there) > 1 and not mapping.get("counting", "in_and_out"):
        choices = ["add", "halve", "in", "out"] if {"in", "out"} <= set(there) else there
        choices += ["count"] if "count" in there and "count" not in choices else []
        headings = ", ".join(mapping.get("columns", role) for role in there)
        problem = (
            "persons are counted in several columns; add counts every pass of the door, halve "
            "every person once"
        )
        question = Question("counting", "in_and_out", tuple(choices))
        notes.ask(question, problem, row=table.heading_row, value=headings)
    elif len(there) == 1 and not mapping.get("counting", "in_and_out"):
        return mapping.with_("counting", "in_and_out", there[0])
    return mapping


def _sensors(
    table: ExportTable,
    columns: Columns,
    mapping: ExportMapping,
    known: KnownPlaces,
    notes: ExportNotes,
) -> dict[str, Place | None]:
    """Zones by the names of their sensors; None for one left out, none for one that is asked."""
    if columns.has("sensor"):
        first: dict[str, int] = {}
        for row, text in table.cells(columns.heading["sensor"]):
            first.setdefault(text, row)
    else:
        first = {columns.text((), "sensor") or ONE_SENSOR: table.heading_row}
    named = mapping.table("sensors")
    places: dict[str, Place | None] = {}
    for sensor, row in first.items():
        meant = str(named.get(sensor, sensor))
        if meant == LEFT_OUT:
            places[sensor] = None
            continue
        try:
            places[sensor] = known.zone(meant)
        except Unfit as trouble:
            notes.ask(
                Question("sensors", sensor),
                f"the sensor's zone is not known ({meant} {trouble.problem})",
                row=row,
                column=columns.heading.get("sensor", ""),
                value=sensor,
            )
    return places


class _Reader:
    """Reads the count of a row."""

    def __init__(
        self,
        columns: Columns,
        moments: Moments,
        mapping: ExportMapping,
        notes: ExportNotes,
        time_zone: dict[str, str],
    ) -> None:
        self._columns, self._moments, self._notes = columns, moments, notes
        self._time_zone = time_zone
        self._how = mapping.get("counting", "in_and_out")
        self._leaves_negative = bool(mapping.get("answers", "negative"))
        told = mapping.get("table", "decimal")
        self._decimal = "" if told == "either" else told
        self._read: dict[str, float | Unfit] = {}

    def bucket(self, row: int, cells: Sequence[str], site: str) -> Bucket | None:
        """The row's count; None with a finding where it has none."""
        column = self._moments.heading
        typed = self._moments.typed(cells)
        try:
            on, minute = self._moments.clock(cells).at_site(self._time_zone[site])
            if not self._timed(cells):
                minute = 0
            roles = {"add": ("in", "out"), "halve": ("in", "out")}.get(self._how, (self._how,))
            persons = 0.0
            for role in roles:
                column, typed = self._columns.heading[role], self._columns.text(cells, role)
                number = self._count(typed)
                if number < 0:
                    self._negative(row, column, typed)
                    return None
                persons += number
        except Unfit as trouble:
            said = f"it {trouble.problem}" if typed else trouble.problem
            self._notes.leave_out(
                *(row, said), column=column, value=typed, allowed=trouble.allowed, mend=trouble.mend
            )
            return None
        return Bucket(row, on, minute, persons / 2 if self._how == "halve" else persons)

    def _negative(self, row: int, column: str, typed: str) -> None:
        problem = "a negative count"
        if self._leaves_negative:
            self._notes.leave_out(row, problem, column=column, value=typed)
        else:
            question = Question("answers", "negative", ("leave out",))
            self._notes.ask(question, problem, row=row, column=column, value=typed)

    def _timed(self, cells: Sequence[str]) -> bool:
        return ":" in self._moments.typed(cells) or self._columns.has("time")

    def _count(self, text: str) -> float:
        return read_once(self._read, text, lambda: _count_of(text, self._decimal))


def _count_of(text: str, decimal: str) -> float:
    """A whole number of persons.

    Raises
    ------
    Unfit : it is none, or can mean two.
    """
    plain = number_text(text)
    if not plain or folded(plain) in ("nan", "na", "null", "none", "n/a"):
        raise Unfit("has no count", "a whole number", "nothing; the bucket is missing")
    may = sorted({value for value in possible_numbers(plain, decimal) if value == int(value)})
    if not may:
        raise Unfit("is no whole number of persons", "a whole number", "correct the cell")
    if len(may) > 1:
        mend = 'write decimal = "." or decimal = "," under [table] of the mapping'
        raise Unfit(f"can mean {may[0]:g} or {may[1]:g}", "a whole number", mend)
    return may[0]


def _by_zone(
    buckets: Buckets, places: dict[str, Place], mapping: ExportMapping, notes: ExportNotes
) -> tuple[ZoneCounts, ...]:
    """Days by zone and kind; sensors of one zone are put together as the mapping says."""
    together: defaultdict[tuple[str, str, str], dict[str, dict[date, DayCount]]]
    together = defaultdict(dict)
    for sensor, of in buckets.items():
        kind = mapping.get("kinds", sensor) or next(iter(PASS_WEIGHT))
        place = places[sensor]
        together[place.site, place.zone, kind][sensor] = {d.on: d for d in days_of(of)}
    how = mapping.get("counting", "several_sensors")
    counts = []
    for (site, zone, kind), sensors in sorted(together.items()):
        if len(sensors) > 1 and not how:
            question = Question("counting", "several_sensors", ("add", "average", "largest"))
            problem = f"{len(sensors)} sensors count {kind} traffic in {site}/{zone}"
            notes.ask(question, problem, value=", ".join(sorted(sensors)))
            continue
        days = tuple(_joined(list(sensors.values()), how))
        named = ", ".join(sorted(sensors))
        counts.append(ZoneCounts(site=site, zone=zone, kind=kind, days=days, column=named))
    return tuple(counts)


def _joined(sensors: Sequence[dict[date, DayCount]], how: str) -> Iterable[DayCount]:
    """The days all sensors counted, put together; with one sensor, its own."""
    if len(sensors) == 1:
        return sensors[0].values()
    shared = sorted(set(sensors[0]).intersection(*sensors[1:]))
    joined = []
    for on in shared:
        days = [sensor[on] for sensor in sensors]
        persons = [day.persons for day in days]
        total = max(persons) if how == "largest" else sum(persons)
        total /= len(persons) if how == "average" else 1
        least = min(days, key=lambda day: day.buckets)
        stuck = any(day.one_number for day in days)
        joined.append(replace(least, persons=total, one_number=stuck))
    return joined
