"""What would change a zone's next date: the same zone planned again with one thing different."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.ground.schedule.branch_year import BranchYear, decide_branch
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import Measure, Reading
from floorcare.ground.trade.traffic import FOOTFALL_OF_LEVEL, TrafficRow
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.ground.trade.visit import Due

READING_STEP = 0.06
"""How far a supposed reading lies from today's estimate: about three reading errors. Assumption."""
TRAFFIC_STEP = 0.25
"""How much more or less footfall is supposed. Assumption."""
CONFIDENCES = (0.6, 0.75, 0.9)
"""Confidences set against the promised one. Assumption."""
STATIONS = 5
"""Stations of a supposed reading. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """One supposition and the treatment it would make the next; None where none within the year."""

    supposed: str
    work: Work | None
    by: date | None


def next_treatment(year: BranchYear) -> Due | None:
    """The first treatment due in a plan of one zone, None where none falls in the horizon."""
    decision = decide_branch(year)
    dues = [line.due for stub in decision.stubs for line in stub.lines]
    dues += [left.due for left in decision.unplaced]
    treatments = [due for due in dues if due.work in TREATMENTS]
    return min(treatments, key=lambda d: (d.target, d.work), default=None)


def only_zone(year: BranchYear, site: str, zone: str) -> BranchYear:
    """The same plan for one zone alone, with no visit standing.

    A zone's dues never depend on its neighbours, so what is found for it holds in the whole plan;
    only the night it is gathered to may differ.
    """
    book = next(b for b in year.books if b.site.code == site)
    alone = replace(book, zones=tuple(z for z in book.zones if z.zone.code == zone))
    return replace(year, books=(alone,), standing=(), planned_to=None)


def what_ifs(year: BranchYear, outlook: ZoneOutlook) -> tuple[WhatIf, ...]:
    """What would bring a zone's next treatment forward or put it off.

    Parameters
    ----------
    year : of one zone alone, see `only_zone`.
    outlook : the zone's condition today.

    Source: the plan itself, made again with one thing changed.
    """
    zone = year.books[0].zones[0]
    today = year.today
    supposed: list[tuple[str, ZoneBook]] = []
    if outlook.gloss_gu is not None:
        for sign, word in ((-1, "below"), (1, "above")):
            gloss = outlook.gloss_gu * (1 + sign * READING_STEP)
            apart = abs(gloss - outlook.gloss_gu)
            words = f"a reading of {gloss:.0f} GU today, {apart:.0f} {word} the estimate"
            supposed.append((words, _with_reading(zone, today, gloss)))
    for factor, word in ((1 + TRAFFIC_STEP, "more"), (1 - TRAFFIC_STEP, "less")):
        words = f"a quarter {word} footfall from today on"
        supposed.append((words, _with_traffic(zone, today, factor)))
    promise = zone.promise_on(today, PromiseKind.APPEARANCE)
    for confidence in CONFIDENCES if promise is not None else ():
        if promise is not None and abs(confidence - promise.confidence) > 0.01:
            words = (
                f"the look kept with {confidence:.0%} confidence instead of "
                f"{promise.confidence:.0%}"
            )
            supposed.append((words, _with_confidence(zone, confidence)))
    return tuple(_tried(year, words, changed) for words, changed in supposed)


def _tried(year: BranchYear, words: str, zone: ZoneBook) -> WhatIf:
    book: SiteBook = replace(year.books[0], zones=(zone,))
    due = next_treatment(replace(year, books=(book,)))
    return WhatIf(
        supposed=words,
        work=due.work if due is not None else None,
        by=due.target if due is not None else None,
    )


def _with_reading(book: ZoneBook, today: date, gloss_gu: float) -> ZoneBook:
    promise = book.promise_on(today, PromiseKind.APPEARANCE)
    last = next((r for r in reversed(book.readings) if r.measure is Measure.GLOSS), None)
    if last is None:
        return book
    state = promise.reference_state if promise is not None else last.state
    added = tuple(
        Reading(
            zone=book.zone.code,
            station=f"supposed-{number}",
            taken_on=today,
            taken_minute=720,
            measure=Measure.GLOSS,
            value=min(200.0, gloss_gu),
            state=state,
            geometry_deg=last.geometry_deg,
        )
        for number in range(STATIONS)
    )
    return replace(book, readings=(*book.readings, *added))


def _with_traffic(book: ZoneBook, today: date, factor: float) -> ZoneBook:
    """The same past, and from today on so many times the footfall."""
    if not book.traffic:
        span = book.zone.span_about(today)
        row = TrafficRow(
            kind="foot",
            per_day=FOOTFALL_OF_LEVEL[span.traffic] * factor,
            counted=False,
            from_on=today,
        )
        return replace(book, traffic=(row,))
    last = max(row.to_on or date.max for row in book.traffic)
    rows: list[TrafficRow] = []
    for row in book.traffic:
        if row.from_on >= today:
            rows.append(replace(row, per_day=row.per_day * factor))
            continue
        yesterday = today - timedelta(days=1)
        rows.append(replace(row, to_on=min(row.to_on or yesterday, yesterday)))
        # the last count is carried on after its end, so it is what changes from today on
        if (row.to_on or date.max) >= today or row.to_on == last:
            onward = row.to_on if row.to_on is not None and row.to_on >= today else None
            rows.append(replace(row, from_on=today, to_on=onward, per_day=row.per_day * factor))
    return replace(book, traffic=tuple(rows))


def _with_confidence(book: ZoneBook, confidence: float) -> ZoneBook:
    return replace(
        book,
        promises=tuple(
            replace(line, confidence=confidence) if line.kind is PromiseKind.APPEARANCE else line
            for line in book.promises
        ),
    )
