"""Record what was counted: days of a counter's export averaged, or one figure typed by hand."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from typing import Literal

from floorcare.errors import NotKnown
from floorcare.findings import Finding
from floorcare.ground.trade.book import Portfolio, SiteBook, ZoneBook
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.wear.books.counts import (
    CountDoubt,
    CountSpan,
    DayCount,
    Doubt,
    average_days,
    covered_days,
    doubt_days,
)
from floorcare.ground.worktime.window import WEEKDAY_NAMES
from floorcare.store.columns import PROGRAM
from floorcare.store.merge import RowChange
from floorcare.store.open import Store

NEAR_DAYS = 3
"""A weekday that is never counted is a day of nobody beside counted ones so near. Assumption."""
_DAY = timedelta(days=1)
Take = Literal["", "take", "leave out"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneCounts:
    """Days counted in a zone, of one kind of traffic, in order; `column` is what held them."""

    site: str
    zone: str
    kind: str
    days: tuple[DayCount, ...]
    column: str = ""

    @property
    def place(self) -> str:
        """SITE/ZONE."""
        return f"{self.site}/{self.zone}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CountAnswers:
    """What was answered beforehand; "" where it is to be asked.

    counted_before : days that are kept already with another average.
    """

    zero_days: Take = ""
    stuck: Take = ""
    jumps: Take = ""
    absent_weekdays: Literal["", "zero", "not counted"] = ""
    counted_before: Literal["", "replace", "keep stored"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedTraffic:
    """What became of counts.

    rows : (SITE/ZONE, row) that were or would be written; known : rows that stood already.
    days, left_out : counted days that entered an average, and that did not.
    questions : keys of the mapping that would answer what is asked; while there is one nothing is
        written.
    """

    rows: tuple[tuple[str, TrafficRow], ...] = ()
    known: int = 0
    days: int = 0
    left_out: int = 0
    findings: tuple[Finding, ...] = ()
    changes: tuple[RowChange, ...] = ()
    questions: tuple[tuple[str, str, tuple[str, ...]], ...] = ()


@dataclass(slots=True)
class _Judging:
    """Counts while they are judged."""

    file: str
    today: date
    answers: CountAnswers
    findings: list[Finding] = field(default_factory=list)
    questions: list[tuple[str, str, tuple[str, ...]]] = field(default_factory=list)
    rows: list[tuple[ZoneCounts, TrafficRow]] = field(default_factory=list)
    known: int = 0
    days: int = 0
    left_out: int = 0

    def tell(self, of: ZoneCounts, problem: str, mend: str, *, row: int = 0) -> None:
        self.findings.append(
            Finding(
                problem=f"{of.place}: {problem}",
                file=self.file,
                row=row,
                column=of.column,
                mend=mend,
                weight="asks",
            )
        )

    def ask(
        self,
        of: ZoneCounts,
        problem: str,
        question: tuple[str, str, tuple[str, ...]],
        *,
        row: int = 0,
        value: str = "",
    ) -> None:
        table, key, choices = question
        if question not in self.questions:
            self.questions.append(question)
        said = " or ".join(f'"{choice}"' for choice in choices)
        self.findings.append(
            Finding(
                problem=f"{of.place}: {problem}",
                file=self.file,
                row=row,
                column=of.column,
                value=value,
                allowed=", ".join(choices),
                mend=f"write {key} = {said} under [{table}] of the mapping",
                weight="stops",
            )
        )


def record_counts(
    store: Store,
    counts: Sequence[ZoneCounts],
    *,
    file: str,
    today: date,
    who: str,
    now: datetime,
    answers: CountAnswers = CountAnswers(),
    check: bool = False,
) -> RecordedTraffic:
    """Average counted days by month and write them, in one transaction; nothing while one asks.

    Rows that stand and whose days are counted now give way, as they do to a folder's.

    Parameters
    ----------
    file : the name findings go by.
    today : days from today on are not over yet and are left out.
    check : say what would become of them and leave no trace.

    Raises
    ------
    StoreTrouble : the database is locked or may not be written.
    """
    with store.work(writes=True) as work:
        books = work.books()
        zones = {(b.site.code, z.zone.code): z for b in books for z in b.zones}
        judging = _Judging(file=file, today=today, answers=answers)
        for of in counts:
            _judge(judging, of, zones[of.site, of.zone])
        rows = () if judging.questions else tuple(judging.rows)
        changes: tuple[RowChange, ...] = ()
        if rows:
            portfolio = _portfolio(books, rows)
            put = work.put_portfolio(portfolio, who=who, now=now, origin=PROGRAM)
            changes = tuple(c for count in put.values() for c in count.changes)
            if not check:
                work.commit()
    return RecordedTraffic(
        rows=tuple((of.place, row) for of, row in rows),
        known=judging.known,
        days=judging.days,
        left_out=judging.left_out,
        findings=tuple(judging.findings),
        changes=changes,
        questions=tuple(judging.questions),
    )


def record_figure(
    store: Store,
    site: str,
    zone: str,
    row: TrafficRow,
    *,
    who: str,
    now: datetime,
    check: bool = False,
) -> RecordedTraffic:
    """Write one figure typed by hand, in one transaction.

    Raises
    ------
    NotKnown : there is no such zone.
    """
    of = ZoneCounts(site=site, zone=zone, kind=row.kind, days=())
    with store.work(writes=True) as work:
        books = work.books()
        zones = {(b.site.code, z.zone.code): z for b in books for z in b.zones}
        if (site, zone) not in zones:
            raise NotKnown(f'There is no zone "{of.place}".')
        if row in zones[site, zone].traffic:
            return RecordedTraffic(known=1)
        put = work.put_portfolio(_portfolio(books, ((of, row),)), who=who, now=now, origin=PROGRAM)
        if not check:
            work.commit()
    changes = tuple(c for count in put.values() for c in count.changes)
    return RecordedTraffic(rows=((of.place, row),), changes=changes)


def _judge(judging: _Judging, of: ZoneCounts, book: ZoneBook) -> None:
    """What of a zone's counted days becomes rows."""
    days = _in_its_time(judging, of, book)
    days = _with_absent(judging, of, days)
    whole, part = covered_days(days)
    if part:
        problem = f"{_days_said(part)} counted too little of the day; left out"
        judging.tell(of, problem, "nothing, or export these days again", row=part[0].row)
    judging.left_out += len(part)
    whole = _without_doubts(judging, of, whole)
    averages = average_days(whole)
    for first, last in averages.gaps:
        judging.tell(of, f"nothing was counted from {first} to {last}", "look at the counter")
    if averages.too_few:
        few = len(averages.too_few)
        first = averages.too_few[0]
        problem = f"{few} counted {'day' if few == 1 else 'days'} from {first} are too few"
        judging.tell(of, f"{problem} for an average", "bring in an export of a week or more")
        judging.left_out += few
    for span in averages.spans:
        judging.days += span.days
        _tell_span(judging, of, span)
        _against_kept(judging, of, book, span)


def _in_its_time(judging: _Judging, of: ZoneCounts, book: ZoneBook) -> list[DayCount]:
    """The days on which the zone was under care and that are over."""
    starts, ends = book.zone.starts_on, book.zone.ends_on or date.max
    early = [day for day in of.days if not starts <= day.on <= ends]
    cared = [day for day in of.days if starts <= day.on <= ends]
    late = [day for day in cared if day.on >= judging.today]
    if early:
        problem = f"{_days_said(early)} lie outside the zone's care; left out"
        judging.tell(of, problem, "correct the zone, or its first day of care", row=early[0].row)
    if late:
        problem = f"{_days_said(late)} are not over yet; left out"
        judging.tell(of, problem, "bring them in when they are over", row=late[0].row)
    judging.left_out += len(early) + len(late)
    return [day for day in cared if day.on < judging.today]


def _with_absent(judging: _Judging, of: ZoneCounts, days: list[DayCount]) -> list[DayCount]:
    """The days with weekdays the export never has, where the answer is that nobody came."""
    if len(days) < 2:
        return days
    first, last = days[0].on, days[-1].on
    there = {day.on for day in days}
    dates = [first + _DAY * at for at in range((last - first).days + 1)]
    never = {on.weekday() for on in dates} - {on.weekday() for on in there}
    if not never or judging.answers.absent_weekdays == "not counted":
        return days
    if judging.answers.absent_weekdays == "zero":
        nobody = [
            DayCount(on=on, persons=0.0)
            for on in dates
            if on.weekday() in never and _between_counted(on, there)
        ]
        return sorted([*days, *nobody], key=lambda day: day.on)
    named = ", ".join(WEEKDAY_NAMES[weekday] for weekday in sorted(never))
    question = ("counting", "absent_weekdays", ("zero", "not counted"))
    judging.ask(
        of,
        f"no {named} stands in the export: did nobody come, or was it not counted?",
        question,
        row=days[0].row,
    )
    return days


def _between_counted(on: date, counted: set[date]) -> bool:
    """Whether a day lies shortly after one that was counted and shortly before another."""
    near = range(1, NEAR_DAYS + 1)
    before = any(on - _DAY * days in counted for days in near)
    return before and any(on + _DAY * days in counted for days in near)


_KEYS: Mapping[Doubt, str] = {
    Doubt.ZERO: "zero_days",
    Doubt.STUCK: "stuck",
    Doubt.JUMP: "jumps",
}


def _without_doubts(
    judging: _Judging, of: ZoneCounts, days: Sequence[DayCount]
) -> tuple[DayCount, ...]:
    """The days without those the answers leave out; doubts without an answer are asked."""
    doubts = doubt_days(days)
    out = set()
    for doubt in doubts:
        key = _KEYS[doubt.doubt]
        answer = getattr(judging.answers, key)
        if answer == "leave out":
            out.add(doubt.day.on)
        elif not answer:
            question = ("answers", key, ("take", "leave out"))
            problem, value = _doubted(doubt), f"{doubt.day.persons:g}"
            judging.ask(of, problem, question, row=doubt.day.row, value=value)
    judging.left_out += len(out)
    return tuple(day for day in days if day.on not in out)


def _doubted(doubt: CountDoubt) -> str:
    on, usual = doubt.day.on, f"{doubt.usual:,.0f}"
    if doubt.doubt is Doubt.ZERO:
        return f"nobody was counted on {on}, a weekday of {usual} as a rule"
    if doubt.doubt is Doubt.STUCK:
        return f"the counter shows one number over and over on {on}; is it stuck?"
    return f"{on} jumps from the {usual} that its weekday has as a rule"


def _tell_span(judging: _Judging, of: ZoneCounts, span: CountSpan) -> None:
    if span.uncovered:
        problem = (
            f"{len(span.uncovered)} of the days from {span.from_on} to {span.to_on} have no count, "
            f"first {span.uncovered[0]}; taken like the same weekdays of that time"
        )
        judging.tell(of, problem, "nothing, or export these days again")
    if span.unknown_weekdays:
        named = ", ".join(WEEKDAY_NAMES[weekday] for weekday in span.unknown_weekdays)
        problem = f"no {named} was counted from {span.from_on} to {span.to_on}; the average is of "
        judging.tell(of, f"{problem}the other weekdays", "export these days again")


def _against_kept(judging: _Judging, of: ZoneCounts, book: ZoneBook, span: CountSpan) -> None:
    """Make the span a row, unless counts that are kept say the same or otherwise of its days."""
    row = TrafficRow(
        kind=of.kind,
        per_day=round(span.per_day, 1),
        counted=True,
        from_on=span.from_on,
        to_on=span.to_on,
    )
    for kept in book.traffic:
        if kept.kind != of.kind or not kept.counted or kept.to_on is None:
            continue
        if not (kept.from_on <= span.from_on and span.to_on <= kept.to_on):
            continue
        if kept == row or judging.answers.counted_before == "keep stored":
            judging.known += 1
            return
        if judging.answers.counted_before != "replace":
            problem = (
                f"{kept.from_on} to {kept.to_on} is kept already, counted {kept.per_day:g} a day; "
                f"this export says {row.per_day:g} from {row.from_on} to {row.to_on}"
            )
            question = ("answers", "counted_before", ("replace", "keep stored"))
            judging.ask(of, problem, question)
            return
    judging.rows.append((of, row))


def _days_said(days: Sequence[DayCount]) -> str:
    if len(days) == 1:
        return f"1 day ({days[0].on})"
    return f"{len(days)} days ({days[0].on} to {days[-1].on})"


def _portfolio(
    books: Sequence[SiteBook], rows: Sequence[tuple[ZoneCounts, TrafficRow]]
) -> Portfolio:
    """Only the traffic, on its zones; what else a site has is left as it stands."""
    sites = []
    for book in books:
        zones = []
        for zone in book.zones:
            here = (book.site.code, zone.zone.code)
            traffic = tuple(row for of, row in rows if (of.site, of.zone) == here)
            if traffic:
                zones.append(ZoneBook(zone=zone.zone, traffic=traffic))
        if zones:
            site = replace(book.site, windows=(), shut_days=())
            sites.append(SiteBook(site=site, zones=tuple(zones)))
    return Portfolio(books=tuple(sites))
