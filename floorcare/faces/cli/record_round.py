"""One round or one figure typed by hand: read blind, and held against what was expected after."""

from dataclasses import dataclass, replace
from datetime import date

from floorcare import compose
from floorcare.errors import NotKnown, NotUnderstood
from floorcare.faces.cli.record_account import round_said
from floorcare.faces.documents.wording import count
from floorcare.faces.intake.dating import NOON_MINUTE
from floorcare.faces.intake.export_cells import Outside, read_value
from floorcare.faces.intake.export_places import KnownPlaces
from floorcare.faces.intake.readers import CLOCK, folded
from floorcare.faces.intake.unfit import Unfit
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.reading import (
    GLOSS_GEOMETRIES,
    MEASURE_RANGE,
    Measure,
    Reading,
    SurfaceState,
)
from floorcare.ground.trade.traffic import PASS_WEIGHT, TrafficRow
from floorcare.services.read_books import read_books
from floorcare.services.record_readings import (
    ReadingAnswers,
    RecordedReadings,
    TypedReading,
    record_readings,
)
from floorcare.services.show_floors import show_floors
from floorcare.store.open import Store

Expected = tuple[float | None, float | None, float | None]
"""Gloss and its 90 % band, None where nothing can be expected."""
NOTHING_EXPECTED: Expected = (None, None, None)
NOT_READ = ("-", "–", "x")
_MENDS = (
    "correct the value, or give --sure to write it in place of what stands",
    "read again, or give --sure to write it all the same",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """A round as it was typed; `values` are of the zone's stations in order."""

    zone: str
    on: date
    at: str
    state: str
    geometry: int
    instrument: str
    reader: str
    witness: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldRound:
    """What came of it; expected_gu, low_gu and high_gu are of the estimate before it was written.

    None where nothing could be expected: no reading before, or another geometry.
    """

    recorded: RecordedReadings
    expected_gu: float | None
    low_gu: float | None
    high_gu: float | None
    said: str


def record_round(
    typed: Round, db: str | None, *, today: date, who: str, sure: bool, check: bool
) -> ToldRound:
    """Write a round; only then say what the last was and what was expected.

    Parameters
    ----------
    sure : write also what looks copied or stands otherwise.

    Raises
    ------
    NotKnown : there is no such zone.
    NotUnderstood : something cannot be read; nothing is written.
    """
    with compose.opened(db) as store:
        books, _ = read_books(store)
        site, book = _zone(books, typed.zone)
        readings = _readings(typed, site, book)
        expected = _expected(store, replace(typed, zone=f"{site}/{book.zone.code}"), book, today)
        recorded = record_readings(
            store,
            readings,
            file="",
            today=today,
            who=who,
            now=compose.now(),
            answers=ReadingAnswers(
                other_values="replace" if sure else "",
                copied="take" if sure else "",
                mends=_MENDS,
            ),
            check=check,
        )
    return _told(typed, recorded, expected, check=check)


def _told(
    typed: Round, recorded: RecordedReadings, expected: Expected, *, check: bool
) -> ToldRound:
    """What came of it; the last and the expected only once it is written."""
    fate = "would be written" if check else "written"
    lines = [f"{count(recorded.written, 'reading')} of {typed.zone} {fate}."]
    if recorded.known:
        lines.append(f"  {recorded.known} known already, skipped.")
    shown = NOTHING_EXPECTED if check or not recorded.written else expected
    if check:
        recorded = replace(recorded, rounds=())
    lines += [f"  {round_said(one)}" for one in recorded.rounds]
    gloss_gu, low_gu, high_gu = shown
    if gloss_gu is not None:
        lines.append(
            f"  Expected that day {gloss_gu:.1f} GU ({low_gu:.1f} to {high_gu:.1f}), as a burnish "
            "would show it."
        )
    return ToldRound(
        recorded=recorded,
        expected_gu=gloss_gu,
        low_gu=low_gu,
        high_gu=high_gu,
        said="\n".join(lines),
    )


def typed_traffic(
    zone: str, kind: str, what: list[str], first: date, last: date | None, *, counted: bool
) -> tuple[str, str, TrafficRow]:
    """Site, zone and row of a figure typed by hand.

    Raises
    ------
    NotUnderstood : something is missing or cannot be.
    """
    site, slash, code = zone.partition("/")
    if not slash or not code:
        raise NotUnderstood(f'"{zone}" is no zone; write SITE/ZONE.')
    kinds = {folded(name): name for name in PASS_WEIGHT}
    if folded(kind) not in kinds:
        raise NotUnderstood(f"Which kind of traffic? Write --kind with {', '.join(PASS_WEIGHT)}.")
    if len(what) != 1:
        raise NotUnderstood("One figure is wanted: the passes a day.")
    try:
        per_day = read_value(what[0], "", 0, 1_000_000)
        row = TrafficRow(
            kind=kinds[folded(kind)], per_day=per_day, counted=counted, from_on=first, to_on=last
        )
    except (Unfit, Outside, ValueError) as trouble:
        problem = trouble.problem if isinstance(trouble, Unfit) else "lies outside 0 to 1,000,000"
        if not isinstance(trouble, Unfit | Outside):
            problem = str(trouble)
        raise NotUnderstood(f'"{what[0]}" a day: {problem}.') from None
    return site, code, row


def _zone(books: tuple[SiteBook, ...], text: str) -> tuple[str, ZoneBook]:
    try:
        place = KnownPlaces(books).zone(text)
    except Unfit as trouble:
        mend = trouble.mend if isinstance(trouble.mend, str) else trouble.mend(True)
        raise NotKnown(f'"{text}" {trouble.problem}; {mend}.') from None
    for book in books:
        found = book.zone(place.zone) if book.site.code == place.site else None
        if found is not None:
            return place.site, found
    raise AssertionError(place)


def _readings(typed: Round, site: str, book: ZoneBook) -> list[TypedReading]:
    states = {folded(state.value): state for state in SurfaceState}
    if folded(typed.state) not in states:
        words = ", ".join(f'"{state}"' for state in SurfaceState)
        raise NotUnderstood(f"In which state was the floor read? Write --state with {words}.")
    if typed.geometry not in GLOSS_GEOMETRIES:
        raise NotUnderstood("At which angle was it read? Write --geometry 20, 60 or 85.")
    readings = []
    for station, text in _by_station(typed, book):
        if text in NOT_READ:
            continue
        reading = Reading(
            zone=book.zone.code,
            station=station,
            taken_on=typed.on,
            taken_minute=_minute(typed.at),
            measure=Measure.GLOSS,
            value=_gloss(text, station or typed.zone),
            state=states[folded(typed.state)],
            geometry_deg=typed.geometry,
            instrument=typed.instrument,
            reader=typed.reader,
            witness=typed.witness,
        )
        readings.append(TypedReading(site=site, reading=reading))
    return readings


def _by_station(typed: Round, book: ZoneBook) -> list[tuple[str, str]]:
    """Each value with its station; one value of a zone without stations is of the whole zone."""
    stations = [station.code for station in book.stations] or [""]
    if len(stations) != len(typed.values):
        named = ", ".join(stations)
        problem = f"{typed.zone} wants {count(len(stations), 'value')}"
        problem += f", one a station ({named}), “-” for one not read" if named else ""
        raise NotUnderstood(f"{problem}; {count(len(typed.values), 'value')} given.")
    return list(zip(stations, typed.values, strict=True))


def _gloss(text: str, where: str) -> float:
    low, high = MEASURE_RANGE[Measure.GLOSS]
    try:
        return read_value(text, "", low, high)
    except Unfit as trouble:
        raise NotUnderstood(f'{where}: "{text}" {trouble.problem}.') from None
    except Outside as outside:
        hint = ""
        if low <= outside.value / 10 <= high:
            hint = f" Was a decimal point lost? Write {outside.value / 10:g} if so."
        raise NotUnderstood(
            f"{where}: gloss {outside.value:g} GU cannot be; allowed {low:g} to {high:g}.{hint}"
        ) from None


def _minute(text: str) -> int:
    if not text:
        return NOON_MINUTE
    try:
        minute = int(CLOCK.read(text, ""))
    except Unfit:
        minute = 1440
    if minute >= 1440:
        raise NotUnderstood(f'"{text}" is no time of day; write --at 21:40.')
    return minute


def _expected(store: Store, typed: Round, book: ZoneBook, today: date) -> Expected:
    """The estimate of that day as it stands before the round; None where there is none."""
    read = any(r.measure is Measure.GLOSS and r.geometry_deg == 60 for r in book.readings)
    if typed.geometry != 60 or not read or typed.on > today:
        return NOTHING_EXPECTED
    if book.zone.span_on(typed.on) is None:
        return NOTHING_EXPECTED
    try:
        tables = show_floors(store, compose.surfaces(), today=typed.on, zone=typed.zone)
    except NotKnown:  # no branch kept the site that day
        return NOTHING_EXPECTED
    rows = [row for table in tables for row in table.rows if row.reading_gu is not None]
    if not rows:
        return NOTHING_EXPECTED
    return rows[0].gloss_gu, rows[0].low_gu, rows[0].high_gu
