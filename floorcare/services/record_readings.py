"""Record readings of an export or of a round typed by hand, each judged before it is written."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any, Literal

from floorcare.findings import Finding
from floorcare.ground.trade.book import Portfolio, SiteBook, Withdrawal, ZoneBook, withdrawal_of
from floorcare.ground.trade.equipment import Instrument
from floorcare.ground.trade.reading import Reading
from floorcare.ground.trade.zone import Station
from floorcare.ground.wear.books.copied import (
    AlikeSeries,
    RoundKey,
    find_alike,
    round_key,
    station_series,
)
from floorcare.ground.wear.books.last_rounds import RoundRead, beside_last
from floorcare.store.columns import PROGRAM
from floorcare.store.merge import RowChange
from floorcare.store.open import Store

MOST_ALIKE = 5
"""Readings of one zone left out for one reason are told so many times. Assumption."""
MOST_FINDINGS = 200
"""Findings told one by one; the rest is counted. Assumption: more is never read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedReading:
    """A reading on its way in; row and column say where it stands in its file, if in one."""

    site: str
    reading: Reading
    row: int = 0
    column: str = ""

    @property
    def place(self) -> str:
        """SITE/ZONE/STATION, or SITE/ZONE."""
        station = f"/{self.reading.station}" if self.reading.station else ""
        return f"{self.zone}{station}"

    @property
    def zone(self) -> str:
        """SITE/ZONE."""
        return f"{self.site}/{self.reading.zone}"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingAnswers:
    """What was answered beforehand; "" where it is to be asked.

    other_values : a reading that is kept already with another value.
    copied : a series that looks copied.
    mends : what to do about either, for the findings that ask.
    """

    other_values: Literal["", "replace", "keep stored"] = ""
    copied: Literal["", "take", "leave out"] = ""
    mends: tuple[str, str] = ("correct the value", "read again")


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedReadings:
    """What became of readings.

    written : were or, where it was only looked, would be; known : stood already as they are;
    left_out : with a finding each.
    """

    written: int
    known: int
    left_out: int
    findings: tuple[Finding, ...] = ()
    changes: tuple[RowChange, ...] = ()
    rounds: tuple[RoundRead, ...] = ()


@dataclass(slots=True)
class _Judging:
    """Readings while they are judged: those to write, those to take back for them, findings."""

    file: str
    today: date
    answers: ReadingAnswers
    books: Mapping[tuple[str, str], ZoneBook]
    meters: Mapping[str, Instrument]
    findings: list[Finding] = field(default_factory=list)
    known: int = 0
    left_out: int = 0
    replaced: list[Withdrawal] = field(default_factory=list)
    said: set[tuple[str, ...]] = field(default_factory=set)
    alike: Counter[tuple[str, str]] = field(default_factory=Counter)

    def ask(self, one: TypedReading, problem: str, mend: str, *, value: str = "") -> None:
        self.findings.append(
            Finding(
                problem=problem,
                file=self.file,
                row=one.row,
                column=one.column,
                value=value or f"{one.reading.value:g}",
                mend=mend,
                weight="asks",
            )
        )

    def leave_out(self, one: TypedReading, problem: str, mend: str, alike: str = "") -> None:
        """Leave a reading out; of `alike` ones of a zone the first few are told one by one."""
        self.left_out += 1
        if alike:
            self.alike[one.zone, alike] += 1
            if self.alike[one.zone, alike] > MOST_ALIKE:
                return
        self.ask(one, f"{problem}; the reading is left out", mend)

    def told(self) -> tuple[Finding, ...]:
        """Every finding, with those counted that were not told one by one."""
        more = [
            Finding(
                problem=f"and {many - MOST_ALIKE:,} more readings of {zone} {alike}; left out",
                file=self.file,
                mend="correct the dates or the place",
                weight="asks",
            )
            for (zone, alike), many in self.alike.items()
            if many > MOST_ALIKE
        ]
        return _capped([*self.findings, *more])


def record_readings(
    store: Store,
    typed: Sequence[TypedReading],
    *,
    file: str,
    today: date,
    who: str,
    now: datetime,
    answers: ReadingAnswers = ReadingAnswers(),
    check: bool = False,
) -> RecordedReadings:
    """Write the readings that nothing speaks against, in one transaction; ask about the others.

    Parameters
    ----------
    file : the name findings go by.
    today : no reading may lie after it.
    check : say what would become of them and leave no trace.

    Raises
    ------
    StoreTrouble : the database is locked or may not be written.
    """
    taken_back: set[str] = set()
    while True:
        with store.work(writes=True) as work:
            books = work.books()
            meters = {meter.code: meter for meter in work.instruments()}
            zones = {(b.site.code, z.zone.code): z for b in books for z in b.zones}
            judging = _Judging(file, today, answers, zones, meters)
            good = _judged(judging, typed, taken_back)
            changes: tuple[RowChange, ...] = ()
            if good:
                portfolio = _portfolio(books, good, tuple(judging.replaced))
                counts = work.put_portfolio(portfolio, who=who, now=now, origin=PROGRAM)
                changes = tuple(c for count in counts.values() for c in count.changes)
                revived = {c.key for c in changes if _revives(c)} - taken_back
                if revived:  # leaving the block undoes what was written
                    taken_back |= revived
                    continue
                if not check:
                    work.commit()
            return RecordedReadings(
                written=len(good),
                known=judging.known,
                left_out=judging.left_out,
                findings=judging.told(),
                changes=changes,
                rounds=_rounds(judging, good),
            )


def _judged(
    judging: _Judging, typed: Sequence[TypedReading], taken_back: set[str]
) -> list[TypedReading]:
    """The readings to write."""
    good = [one for one in typed if _in_its_time(judging, one) and _by_a_meter(judging, one)]
    good = _new(judging, good)
    kept = []
    for one in good:
        if taken_back and row_key(one) in taken_back:
            problem = f"{one.place}: this reading was taken back"
            judging.leave_out(one, problem, "nothing, if it was; else type it with another minute")
        else:
            kept.append(one)
    return _not_copied(judging, kept)


def _in_its_time(judging: _Judging, one: TypedReading) -> bool:
    """Whether the floor was there, under care, and the day has come."""
    zone, on = judging.books[one.site, one.reading.zone].zone, one.reading.taken_on
    if zone.poured_on is not None and on < zone.poured_on:
        alike, problem = "before the pour", f"it lies before the pour on {zone.poured_on}"
    elif on < zone.starts_on:
        alike, problem = (
            "before its care",
            f"it lies before the zone's care from {zone.starts_on} on",
        )
    elif zone.ends_on is not None and on > zone.ends_on:
        alike, problem = "after its care", f"it lies after the zone's care ended on {zone.ends_on}"
    elif on > judging.today:
        alike, problem = "in the future", "the day is in the future"
    else:
        return True
    judging.leave_out(
        one, f"{one.place} on {on}: {problem}", "correct the date or the place", alike
    )
    return False


def _by_a_meter(judging: _Judging, one: TypedReading) -> bool:
    """Whether the instrument may have read it; one out of calibration is asked about and taken."""
    code, on = one.reading.instrument, one.reading.taken_on
    if not code or not judging.meters:
        return True
    meter = judging.meters.get(code)
    if meter is None:
        mend = f'write "{code}" = "CODE" under [instruments] of the mapping, or load the meter'
        known = ", ".join(sorted(judging.meters))
        problem = f'{one.place} on {on}: no instrument "{code}" is known (there are {known})'
        judging.leave_out(one, problem, mend, f"by {code}")
        return False
    if meter.measure != one.reading.measure:
        problem = f"{one.place} on {on}: instrument {code} reads {meter.measure}"
        problem += f", not {one.reading.measure}"
        judging.leave_out(one, problem, "correct the instrument", f"by {code}")
        return False
    if not meter.calibrated_on(on) and (code, on.isoformat()) not in judging.said:
        judging.said.add((code, on.isoformat()))
        problem = f"{one.place} on {on}: no calibration of {code} covers this day; it is taken"
        judging.ask(one, problem, "load the calibration, or have the meter calibrated")
    return True


def _new(judging: _Judging, typed: Sequence[TypedReading]) -> list[TypedReading]:
    """Readings that are not kept already; one that is kept with another value is asked about."""
    kept: defaultdict[tuple[Any, ...], list[Reading]] = defaultdict(list)
    for site, zone in {(one.site, one.reading.zone) for one in typed}:
        for reading in judging.books[site, zone].readings:
            kept[_moment(site, reading)].append(reading)
    new = []
    for one in typed:
        against = _against(one.reading, kept.get(_moment(one.site, one.reading), ()))
        if against is None:
            new.append(one)
        elif against.value == one.reading.value and against.state == one.reading.state:
            judging.known += 1
        elif judging.answers.other_values == "replace":
            if _names(against) != _names(one.reading):
                judging.replaced.append(withdrawal_of(one.site, against.zone, against))
            new.append(one)
        elif judging.answers.other_values == "keep stored":
            judging.known += 1
        else:
            said = f"{against.value:g}, {against.state}"
            problem = f"{one.place} on {against.taken_on} is kept already with {said}"
            judging.leave_out(one, problem, judging.answers.mends[0])
    return new


def _moment(site: str, r: Reading) -> tuple[Any, ...]:
    place = (site, r.zone, r.station)
    return (*place, r.taken_on, r.taken_minute, r.measure, r.geometry_deg, r.method)


def _names(r: Reading) -> tuple[str, str]:
    return (r.instrument, r.state)


def _against(reading: Reading, kept: Iterable[Reading]) -> Reading | None:
    """The kept reading of this place and moment that this one repeats or contradicts.

    Another meter's reading, or one in another state with another value, is another reading.
    """
    for other in kept:
        meters = {reading.instrument, other.instrument}
        if len(meters) == 2 and "" not in meters:
            continue
        if other.state == reading.state or other.value == reading.value:
            return other
    return None


def _not_copied(judging: _Judging, typed: Sequence[TypedReading]) -> list[TypedReading]:
    """Readings without the series that look copied, which are asked about."""
    if judging.answers.copied == "take" or not typed:
        return list(typed)
    rounds: defaultdict[RoundKey, list[TypedReading]] = defaultdict(list)
    new: defaultdict[str, list[Reading]] = defaultdict(list)
    for one in typed:
        rounds[round_key(one.zone, one.reading)].append(one)
        new[one.zone].append(one.reading)
    kept = {f"{site}/{zone}": book.readings for (site, zone), book in judging.books.items()}
    out = set()
    for found in find_alike(station_series(new), station_series(kept)):
        key = found.series.key
        out.add(key)
        judging.left_out += len(rounds[key])
        judging.ask(
            rounds[key][0],
            f"{_alike_said(found)}; the round is left out",
            judging.answers.mends[1],
            value=" ".join(f"{value:g}" for value in found.series.values),
        )
    return [one for one in typed if round_key(one.zone, one.reading) not in out]


def _alike_said(found: AlikeSeries) -> str:
    series, other = found.series, found.other
    what = f"{series.zone} on {series.on}"
    if other is None:
        return f"{what}: all {len(series.values)} stations show the same value"
    return f"{what} shows station by station what {other.zone} showed on {other.on}"


def _portfolio(
    books: Sequence[SiteBook], good: Sequence[TypedReading], back: tuple[Withdrawal, ...]
) -> Portfolio:
    """Only the readings, on their zones; what else a site has is left as it stands."""
    of: defaultdict[tuple[str, str], list[Reading]] = defaultdict(list)
    for one in good:
        of[one.site, one.reading.zone].append(one.reading)
    sites = []
    for book in books:
        zones = []
        for zone in book.zones:
            readings = of.get((book.site.code, zone.zone.code))
            if readings:
                listed = {station.code for station in zone.stations}
                new = {r.station for r in readings} - listed - {""}
                stations = tuple(Station(code=code) for code in sorted(new))
                zones.append(ZoneBook(zone=zone.zone, stations=stations, readings=tuple(readings)))
        if zones:
            site = replace(book.site, windows=(), shut_days=())
            sites.append(SiteBook(site=site, zones=tuple(zones)))
    return Portfolio(books=tuple(sites), withdrawn=back)


def row_key(one: TypedReading) -> str:
    """The reading as the store's changes name it."""
    r = one.reading
    at = f"{r.taken_minute // 60:02d}:{r.taken_minute % 60:02d}"
    angle = f"{r.geometry_deg}°" if r.geometry_deg else ""
    parts = (one.place, r.taken_on.isoformat(), at, r.measure, angle, r.method, r.instrument)
    return " ".join(filter(None, (*parts, r.state)))


def _revives(change: RowChange) -> bool:
    """Whether a change would bring back what was taken back."""
    return change.kind == "readings" and any(
        name == "withdrawn" and not after for name, _, after in change.fields
    )


def _rounds(judging: _Judging, good: Sequence[TypedReading]) -> tuple[RoundRead, ...]:
    """The rounds that were written, each with the last of its kind before it."""
    of: defaultdict[tuple[str, str], list[Reading]] = defaultdict(list)
    for one in good:
        of[one.site, one.reading.zone].append(one.reading)
    return tuple(
        one
        for (site, zone), readings in sorted(of.items())
        for one in beside_last(
            f"{site}/{zone}", judging.books[site, zone].readings, tuple(readings)
        )
    )


def _capped(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    if len(findings) <= MOST_FINDINGS:
        return tuple(findings)
    more = Finding(
        problem=f"and {len(findings) - MOST_FINDINGS:,} more readings to look at",
        file=findings[0].file,
        mend="mend those above, then look again",
        weight="asks",
    )
    return (*findings[:MOST_FINDINGS], more)
