"""A meter's export: any table of readings, by a mapping, into readings at known places."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, NamedTuple

from floorcare.faces.intake.export_cells import Outside, decimal_of, read_value
from floorcare.faces.intake.export_columns import Columns, Moments, moments_of
from floorcare.faces.intake.export_headings import (
    known_headings,
    measure_of,
    proposed,
    role_of,
    unread_headings,
)
from floorcare.faces.intake.export_mapping import (
    READINGS,
    ExportMapping,
    ExportNotes,
    Question,
)
from floorcare.faces.intake.export_places import KnownPlaces, Place, PlaceNames, meter_codes
from floorcare.faces.intake.export_repeats import settle_repeats
from floorcare.faces.intake.export_table import ExportTable, read_table
from floorcare.faces.intake.export_unsaid import (
    ValueColumn,
    angle_of,
    ask_for_rest,
    ask_for_unit,
    value_columns,
)
from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.unfit import Unfit
from floorcare.findings import Finding
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.codes import NAME_LONGEST
from floorcare.ground.trade.equipment import Instrument
from floorcare.ground.trade.reading import (
    MEASURE_RANGE,
    Measure,
    Reading,
    SurfaceState,
)
from floorcare.services.record_readings import TypedReading

ROWS_PER_TELL = 5_000
_STATES = {folded(state.value): state for state in SurfaceState}


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterExport:
    """What a meter's export holds.

    readings : none while a question is open.
    mapping, questions : what was understood, and what is still to be answered.
    rows : of the table; repeated : values that stand twice; left_out : on purpose, by the mapping.
    unread : headings nothing was read from.
    """

    readings: tuple[TypedReading, ...] = ()
    findings: tuple[Finding, ...] = ()
    mapping: ExportMapping
    questions: tuple[Question, ...] = ()
    rows: int = 0
    repeated: int = 0
    left_out: int = 0
    unread: tuple[str, ...] = ()


@dataclass(slots=True)
class _Reading:
    """An export while it is read: what turns its cells into readings, and what came of it."""

    table: ExportTable
    mapping: ExportMapping
    notes: ExportNotes
    columns: Columns
    moments: Moments
    values: Sequence[ValueColumn]
    places: PlaceNames
    time_zone: dict[str, str]
    meters: dict[str, str]
    decimal: str
    empty: dict[str, list[int]] = field(default_factory=dict)
    strange: dict[str, tuple[Unfit, list[int]]] = field(default_factory=dict)
    left_out: int = 0
    cached: dict[tuple[Any, ...], float | Exception] = field(default_factory=dict)


def read_meter_export(
    path: Path,
    mapping: ExportMapping,
    books: Sequence[SiteBook],
    meters: Sequence[Instrument],
    *,
    tell: Callable[[int, int], None] = lambda done, total: None,  # noqa: ARG005
) -> MeterExport:
    """Read a meter's export by its mapping and, where that is silent, by its headings.

    Parameters
    ----------
    books, meters : the places and instruments that are known.
    tell : called now and then with rows read and rows in all.
    """
    notes = ExportNotes(path.name)
    named = known_headings(READINGS, mapping)

    def known(heading: str) -> bool:
        angle = measure_of(heading) and not heading.isdigit()  # a number alone may be a count
        return heading in named or bool(role_of(READINGS, heading) or angle)

    table = read_table(path, mapping, known, notes)
    if table is None:
        return _closed(notes, mapping)
    mapping = proposed(table, mapping, notes)
    reading, mapping = _readied(table, mapping, notes, KnownPlaces(books), meters)
    if reading is None:
        return _closed(notes, mapping, table)
    typed: list[TypedReading] = []
    for done, (row, cells) in enumerate(table.rows, start=1):
        typed += _of_row(reading, row, cells)
        if done % ROWS_PER_TELL == 0:
            tell(done, len(table.rows))
    tell(len(table.rows), len(table.rows))
    _tell_left_out(reading, len(table.rows))
    kept, repeated = settle_repeats(typed, mapping, notes)
    if notes.stops:
        return _closed(notes, mapping, table)
    return replace(
        _closed(notes, mapping, table),
        readings=tuple(kept),
        repeated=repeated,
        left_out=reading.left_out,
    )


def _closed(
    notes: ExportNotes, mapping: ExportMapping, table: ExportTable | None = None
) -> MeterExport:
    return MeterExport(
        findings=notes.findings(),
        mapping=mapping,
        questions=tuple(notes.questions),
        rows=len(table.rows) if table else 0,
        unread=tuple(unread_headings(table, mapping)) if table else (),
    )


def _readied(
    table: ExportTable,
    mapping: ExportMapping,
    notes: ExportNotes,
    known: KnownPlaces,
    meters: Sequence[Instrument],
) -> tuple[_Reading | None, ExportMapping]:
    """What is needed to read the rows; None where a question must be answered before."""
    columns = Columns(table, mapping)
    values = value_columns(table, columns, mapping, notes)
    found = moments_of(table, columns, mapping, notes)
    decimal = decimal_of(table, [column.heading for column in values], mapping, notes)
    if decimal and values and "decimal" not in mapping.table("table"):
        mapping = mapping.with_("table", "decimal", decimal)
    ask_for_unit(table, columns, values, mapping, notes)
    ask_for_rest(table, columns, values, notes)
    try:
        places = PlaceNames(known, mapping)
    except Unfit as trouble:
        notes.add(
            "stops", table.file, 0, trouble.problem, allowed=trouble.allowed, mend=trouble.mend
        )
        return None, mapping
    if found is None or notes.stops:
        return None, found[1] if found else mapping
    order = found[1].get("table", "date_order")
    if order:
        mapping = mapping.with_("table", "date_order", order)
    return _Reading(
        table=table,
        mapping=mapping,
        notes=notes,
        columns=columns,
        moments=found[0],
        values=values,
        places=places,
        time_zone=known.time_zone,
        meters=meter_codes(meters, mapping.table("instruments")),
        decimal=decimal,
    ), mapping


def _of_row(reading: _Reading, row: int, cells: Sequence[str]) -> Iterator[TypedReading]:
    """The readings of one row; what keeps it from being read is told, and it is left out."""
    columns, notes = reading.columns, reading.notes
    typed = ""
    try:
        column = columns.heading.get("place", "")
        typed = _place_text(columns, cells)
        place = _place(reading, row, typed)
        if place is None:
            return
        column, typed = reading.moments.heading, reading.moments.typed(cells)
        when = reading.moments.clock(cells).at_site(reading.time_zone[place.site])
        column, typed = columns.heading.get("state", ""), columns.text(cells, "state")
        state = _state(reading, row, typed)
        if state is None:
            return
        column, typed = columns.heading.get("geometry", ""), columns.text(cells, "geometry")
        geometry = _geometry(reading, typed)
        column = ""
        about = _About(place, when, state, geometry, _people(reading, cells))
    except Unfit as trouble:
        notes.leave_out(
            row,
            _told(trouble, typed),
            column=column,
            value=typed,
            allowed=trouble.allowed,
            mend=trouble.mend,
        )
        return
    yield from _values(reading, row, cells, about)


class _About(NamedTuple):
    """What every value of a row shares."""

    place: Place
    when: tuple[Any, int]
    state: SurfaceState
    geometry_deg: int
    people: dict[str, str]


def _told(trouble: Unfit, typed: str) -> str:
    if trouble.problem[:3] in ("is ", "can", "nam", "lie") and typed:
        return f"it {trouble.problem}"
    return trouble.problem


def _place(reading: _Reading, row: int, typed: str) -> Place | None:
    """The row's place; None where the mapping leaves it out, or nobody knows it."""
    try:
        place = reading.places.place(typed)
    except Unfit as trouble:
        reading.strange.setdefault(typed, (trouble, []))[1].append(row)
        return None
    reading.left_out += place is None
    return place


def _tell_strange(reading: _Reading) -> None:
    """Say once of each place nobody knows how many rows are left out for it."""
    column = reading.columns.heading.get("place", "")
    for typed, (trouble, rows) in reading.strange.items():
        question = Question("places", typed)
        reading.notes.questions.append(question)
        problem = _told(trouble, typed)
        if len(rows) > 1:
            problem += f", here and in {len(rows) - 1:,} rows more"
        reading.notes.leave_out(
            *(rows[0], problem),
            column=column,
            value=typed,
            allowed=trouble.allowed,
            mend=question.or_else(trouble.mend),
        )


def _place_text(columns: Columns, cells: Sequence[str]) -> str:
    named = columns.text(cells, "place")
    parts = [columns.text(cells, role) for role in ("site", "zone")]
    if not columns.has("place") and all(parts):
        named = "/".join(parts)
    station = columns.text(cells, "station")
    if not named:
        raise Unfit("there is no place", "SITE/ZONE/STATION", "fill it in")
    return f"{named}/{station}" if station else named


def _state(reading: _Reading, row: int, typed: str) -> SurfaceState | None:
    if not typed:
        raise Unfit("there is no state of the floor", ", ".join(SurfaceState), "fill it in")
    named = reading.mapping.get("states", typed) or typed
    state = _STATES.get(folded(named))
    if state is None:
        question = Question("states", typed, tuple(each.value for each in SurfaceState))
        heading = reading.columns.heading.get("state", "")
        if question not in reading.notes.questions:
            problem = "the state of the floor is told in a word not known here"
            reading.notes.ask(question, problem, row=row, column=heading, value=typed)
    return state


def _geometry(reading: _Reading, typed: str) -> int:
    """The row's geometry; 0 where the columns of values name theirs."""
    if typed:
        return angle_of(typed)
    if any(c.measure is Measure.GLOSS and not c.geometry_deg for c in reading.values):
        raise Unfit("there is no angle", "20, 60, 85", "fill it in")
    return 0


def _people(reading: _Reading, cells: Sequence[str]) -> dict[str, str]:
    """Instrument, reader and witness; an instrument by its code where it is known."""
    said = {}
    for role in ("instrument", "reader", "witness"):
        text = reading.columns.text(cells, role)
        if len(text) > NAME_LONGEST or not text.isprintable():
            raise Unfit(f"the {role} cannot be shown as a name", f"≤ {NAME_LONGEST} characters")
        said[role] = text
    said["instrument"] = reading.meters.get(folded(said["instrument"]), said["instrument"])
    return said


def _values(
    reading: _Reading, row: int, cells: Sequence[str], about: _About
) -> Iterator[TypedReading]:
    found = False
    for column in reading.values:
        text = cells[column.at].strip()
        if not text and len(reading.values) > 1:
            reading.empty.setdefault(column.heading, []).append(row)
            continue
        found = True
        value = _value(reading, row, column, text)
        if value is None:
            continue
        gloss = column.measure is Measure.GLOSS
        yield TypedReading(
            site=about.place.site,
            row=row,
            column=column.heading,
            reading=Reading(
                zone=about.place.zone,
                station=about.place.station,
                taken_on=about.when[0],
                taken_minute=about.when[1],
                measure=column.measure,
                value=value,
                state=about.state,
                geometry_deg=(column.geometry_deg or about.geometry_deg) if gloss else 0,
                **about.people,
            ),
        )
    if not found:
        mend = "read again, or leave the row out"
        reading.notes.leave_out(row, "there is no value in any column", mend=mend)


def _value(reading: _Reading, row: int, column: ValueColumn, text: str) -> float | None:
    """The cell's value; None with a finding where it has none."""
    low, high = MEASURE_RANGE[column.measure]
    key = (text, column.measure)
    if key not in reading.cached:
        try:
            reading.cached[key] = read_value(text, reading.decimal, low, high)
        except (Unfit, Outside) as trouble:
            reading.cached[key] = trouble
    found = reading.cached[key]
    if isinstance(found, Unfit):
        place = {"column": column.heading, "value": text, "allowed": found.allowed}
        reading.notes.leave_out(row, _told(found, text), **place, mend=found.mend)
        return None
    if isinstance(found, Outside):
        _outside(reading, row, column, text, found.value)
        return None
    assert isinstance(found, float)
    return found


def _outside(reading: _Reading, row: int, column: ValueColumn, text: str, value: float) -> None:
    low, high = MEASURE_RANGE[column.measure]
    problem = f"{column.measure} {value:g} cannot be: allowed {low:g} to {high:g}"
    if reading.mapping.get("answers", "outside"):
        reading.notes.leave_out(row, problem, column=column.heading, value=text, mend="read again")
        return
    if value > high and low <= value / 10 <= high:
        problem += f"; was a decimal sign lost ({value / 10:g})? Correct it in the file, or"
    question = Question("answers", "outside", ("leave out",))
    reading.notes.ask(question, problem, row=row, column=column.heading, value=text)


def _tell_left_out(reading: _Reading, rows: int) -> None:
    """Say once a column how many rows it is empty in, unless in most; then the strange places."""
    for heading, empty in reading.empty.items():
        if len(empty) <= rows / 2:
            problem = f"{len(empty):,} rows have no value in this column; the first is this"
            mend = "nothing, if the angle was not read there"
            reading.notes.add(
                "asks", reading.table.file, empty[0], problem, column=heading, mend=mend
            )
    _tell_strange(reading)
