"""What was done, read and is planned in a term, a row for each zone, work and night."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from floorcare.ground.contracts.promised import PromisedZone
from floorcare.ground.rules.slip import judge_slip
from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.reading import Measure, Reading, RoundValue, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.treatment import TREATMENTS, WHOLE_ZONE_SHARE, Work
from floorcare.ground.trade.visit import Visit, VisitLine, VisitState
from floorcare.ground.wear.books.from_books import (
    PARTS_TOGETHER_DAYS,
    routine_dates,
    runs_by_itself,
)
from floorcare.ground.wear.books.judged import group_rounds

MORNING_AFTER = timedelta(days=1)
"""Work of a night may be entered with the date of the next morning."""


class RowKind(StrEnum):
    """What a row of a term's history tells."""

    DONE = "done"
    READ = "read"
    PLANNED = "planned"
    UNREPORTED = "nothing reported"
    NO_ACCESS = "no access"


@dataclass(frozen=True, slots=True, kw_only=True)
class TermRow:
    """One work on one zone on one night of a term.

    zone_name : how contract and customer speak of the zone.
    on : the site's own date of the night; `known`, `about_days` say how well it is known.
    performer : who did or read it, as typed.
    share : share of the zone treated, 0..1; None for what treats nothing.
    measure : what was read: "gloss 60°", "wet DCOF"; "" where nothing was.
    value, stations, state : mean of a round, worst value of a slip test, from so many stations.
    reference_share : gloss as a share of the agreed reference, None where they do not compare.
    limit, passes : of a slip test.
    visit : UUID of our visit, "" where there was none.
    """

    site: str
    zone: str
    zone_name: str
    on: date
    kind: RowKind
    work: Work
    known: DateKnown = DateKnown.KNOWN
    about_days: int = 0
    performer: str = ""
    share: float | None = None
    measure: str = ""
    value: float | None = None
    stations: int = 0
    state: SurfaceState | None = None
    reference_share: float | None = None
    limit: float | None = None
    passes: bool | None = None
    visit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkCount:
    """How often a work was done and is planned, in zones; past visits it stood on told apart.

    part_done : begun and not finished within a fortnight.
    """

    work: Work
    done: int = 0
    part_done: int = 0
    planned: int = 0
    unreported: int = 0
    no_access: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class RhythmCount:
    """A routine that runs by itself: on how many days of the term so far, and to its end."""

    site: str
    work: Work
    performer: Performer
    proof: Proof
    zones: int
    so_far: int
    to_come: int


def term_rows(
    zones: Sequence[PromisedZone],
    visits: Iterable[Visit],
    *,
    first: date,
    last: date,
    today: date,
) -> tuple[TermRow, ...]:
    """The history of a term and what is planned to its end, by site, night, zone and work.

    Parameters
    ----------
    zones : those the contract makes promises about.
    visits : of their sites, any night.
    first, last : the term, both days included.
    today : what lies later is planned; a visit of an earlier night that nobody reported says so.

    Source: records as they stand. Assumption: a night's work may bear the next morning's date.
    """
    rows: list[TermRow] = []
    for zone in zones:
        done = tuple(_done_rows(zone, first, min(last, today)))
        rows += [*done, *_round_rows(zone, first, min(last, today))]
        rows += _slip_rows(zone, first, min(last, today))
    by_zone: dict[tuple[str, str], list[TermRow]] = defaultdict(list)
    for row in rows:
        by_zone[row.site, row.zone].append(row)
    named = {zone.key: zone for zone in zones}
    for visit in visits:
        if first <= visit.night <= last:
            rows += _visit_rows(visit, named, by_zone, today)
    order = list(Work)
    return tuple(sorted(rows, key=lambda r: (r.site, r.on, r.zone, order.index(r.work), r.measure)))


_COLUMN = {
    RowKind.DONE: "done",
    RowKind.READ: "done",
    RowKind.PLANNED: "planned",
    RowKind.UNREPORTED: "unreported",
    RowKind.NO_ACCESS: "no_access",
}


def count_works(rows: Iterable[TermRow]) -> tuple[WorkCount, ...]:
    """How often each work was done and is planned, in the order of the trade's ladder.

    Parts of one treatment within a fortnight count once, and so do the measures of one round.

    Assumption: the fortnight of the wear model, ground/wear/books/from_books.
    """
    groups: dict[tuple[Work, str], dict[tuple[str, str], list[TermRow]]] = {}
    for row in rows:
        group = groups.setdefault((row.work, _COLUMN[row.kind]), {})
        group.setdefault((row.site, row.zone), []).append(row)
    times: dict[Work, dict[str, int]] = {}
    for (work, column), group in groups.items():
        whole, begun = (sum(pair) for pair in zip(*map(_times, group.values()), strict=True))
        mine = times.setdefault(work, {})
        if column == "done":
            mine |= {"done": whole, "part_done": begun}
        else:
            mine[column] = whole + begun
    return tuple(WorkCount(work=work, **times[work]) for work in Work if work in times)


def _times(rows: Sequence[TermRow]) -> tuple[int, int]:
    """How often one work was done on one zone, its parts taken together, and how often begun."""
    whole, begun, reached, before = 0, 0, 0.0, date.min
    for on in sorted({row.on for row in rows}):
        if reached and (on - before).days > PARTS_TOGETHER_DAYS:
            begun, reached = begun + 1, 0.0
        # a round treats nothing: it is whole by being taken
        reached += sum(1.0 if r.share is None else r.share for r in rows if r.on == on)
        before = on
        if reached >= WHOLE_ZONE_SHARE - 1e-9:
            whole, reached = whole + 1, 0.0
    return whole, begun + (reached > 0)


def count_rhythms(
    zones: Sequence[PromisedZone], *, first: date, last: date, today: date
) -> tuple[RhythmCount, ...]:
    """The routines that run by themselves in a term, with the days they are believed to run.

    Source: expansion of their RFC 5545 rules. Assumption: what proves them is said, not weighed.
    """
    found: dict[tuple[str, str, Work, Performer, Proof], list[tuple[date, ...]]] = {}
    for zone in zones:
        for routine in zone.zone.routines:
            if runs_by_itself(routine):
                site = zone.book.site.code
                key = (site, routine.rule, routine.work, routine.performer, routine.proof)
                found.setdefault(key, []).append(routine_dates(routine, first, last))
    counts = []
    for (site, _, work, performer, proof), of_zones in found.items():
        days = {day for dates in of_zones for day in dates}
        so_far = sum(day <= today for day in days)
        if days:
            counts.append(
                RhythmCount(
                    site=site,
                    work=work,
                    performer=performer,
                    proof=proof,
                    zones=sum(1 for dates in of_zones if dates),
                    so_far=so_far,
                    to_come=len(days) - so_far,
                )
            )
    return tuple(counts)


def _done_rows(zone: PromisedZone, first: date, last: date) -> Iterator[TermRow]:
    site, code = zone.key
    for done in zone.zone.done:
        if first <= done.done_on <= last:
            yield TermRow(
                site=site,
                zone=code,
                zone_name=zone.spoken,
                on=done.done_on,
                kind=RowKind.DONE,
                work=done.work,
                known=done.known,
                about_days=done.about_days,
                performer=done.performer,
                share=done.share,
                visit=done.visit,
            )


def _round_rows(zone: PromisedZone, first: date, last: date) -> Iterator[TermRow]:
    site, code = zone.key
    readings = tuple(r for r in zone.zone.readings if first <= r.taken_on <= last)
    for one in group_rounds(readings):
        angle = f" {one.geometry_deg}°" if one.measure is Measure.GLOSS else ""
        yield TermRow(
            site=site,
            zone=code,
            zone_name=zone.spoken,
            on=one.on,
            kind=RowKind.READ,
            work=Work.READING_ROUND,
            performer=_readers(r for r in readings if _is_of(r, one)),
            measure=f"{one.measure.value}{angle}",
            value=one.value,
            stations=one.stations,
            state=one.state,
            reference_share=_reference_share(zone, one),
        )


def _is_of(reading: Reading, one: RoundValue) -> bool:
    return (reading.taken_on, reading.measure, reading.geometry_deg, reading.state) == (
        one.on,
        one.measure,
        one.geometry_deg,
        one.state,
    )


def _readers(readings: Iterable[Reading]) -> str:
    return ", ".join(sorted({r.reader for r in readings if r.reader}))


def _reference_share(zone: PromisedZone, one: RoundValue) -> float | None:
    """The round against the reference; only gloss at 60° in the reference's own state compares."""
    line = zone.appearance(one.on)
    if line is None or not line.reference_gu or one.measure is not Measure.GLOSS:
        return None
    if one.geometry_deg != 60 or one.state is not line.reference_state:
        return None
    return one.value / line.reference_gu


def _slip_rows(zone: PromisedZone, first: date, last: date) -> Iterator[TermRow]:
    """Slip tests by night and method; the worst station speaks for the zone."""
    site, code = zone.key
    nights: dict[tuple[date, str], list[Reading]] = defaultdict(list)
    for reading in zone.zone.readings:
        if reading.measure is Measure.SLIP and first <= reading.taken_on <= last:
            nights[reading.taken_on, reading.method].append(reading)
    for (on, method), readings in nights.items():
        worst = min(readings, key=lambda r: r.value)
        verdict = judge_slip(zone.zone, worst)
        yield TermRow(
            site=site,
            zone=code,
            zone_name=zone.spoken,
            on=on,
            kind=RowKind.READ,
            work=Work.SLIP_TEST,
            performer=_readers(readings),
            measure=method or "slip",
            value=worst.value,
            stations=len(readings),
            state=worst.state,
            limit=verdict.limit if verdict else None,
            passes=verdict.passes if verdict else None,
        )


def _visit_rows(
    visit: Visit,
    zones: dict[tuple[str, str], PromisedZone],
    told: dict[tuple[str, str], list[TermRow]],
    today: date,
) -> Iterator[TermRow]:
    """A visit's lines on the contract's zones, as planned or as nobody reported them."""
    kind = RowKind.PLANNED if visit.night >= today else RowKind.UNREPORTED
    if visit.state is VisitState.NO_ACCESS:
        kind = RowKind.NO_ACCESS
    elif visit.state in (VisitState.DONE, VisitState.PART_DONE, VisitState.CANCELLED):
        return
    for line in visit.lines:
        zone = zones.get((visit.site, line.zone))
        if zone is None or any(_tells(row, visit, line) for row in told.get(zone.key, ())):
            continue
        whole = zone.zone.zone.span_about(visit.night).area_m2
        share = None
        if line.work in TREATMENTS and line.area_m2 is not None and whole:
            share = min(1.0, line.area_m2 / whole)
        yield TermRow(
            site=visit.site,
            zone=line.zone,
            zone_name=zone.spoken,
            on=visit.night,
            kind=kind,
            work=line.work,
            share=share,
            visit=visit.uuid,
        )


def _tells(row: TermRow, visit: Visit, line: VisitLine) -> bool:
    """Whether a row tells what became of a visit's line."""
    if row.work is not line.work:
        return False
    return row.visit == visit.uuid or visit.night <= row.on <= visit.night + MORNING_AFTER
