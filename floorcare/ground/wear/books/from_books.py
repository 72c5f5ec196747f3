"""Zone books turned into the columns the wear model reads: exposure and treatments by day.

A day's exposure comes from its traffic rows where there are any, else from the zone's traffic
level. Treatments come from what was recorded and from routines that are believed to have run.
"""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from floorcare.ground.trade.book import DateKnown, TreatmentDone, ZoneBook
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.surface import NO_EFFECT, Effect, Surface
from floorcare.ground.trade.traffic import FOOTFALL_OF_LEVEL, PASS_WEIGHT
from floorcare.ground.trade.treatment import WHOLE_ZONE_SHARE, Work
from floorcare.ground.trade.zone import Opening
from floorcare.ground.wear.model import Flags, Floats
from floorcare.ground.worktime.recurrence import Recurrence, typical_gap_days

ORDER_IN_A_NIGHT: tuple[Work, ...] = (
    Work.FULL_RESTORATION,
    Work.REPOLISH,
    Work.STRIP,
    Work.DEEP_SCRUB,
    Work.RECOAT,
    Work.FINE_BURNISH,
    Work.BURNISH,
)
"""Order in which one night's treatments reach the floor: what takes off before what lays on."""

PARTS_TOGETHER_DAYS = 14
"""Parts of a zone treated within so many days count as one treatment. Assumption."""

STANDING_GAP_DAYS = 7.0
"""A rhythm of ours up to this gap is a standing round, beyond it a visit. Assumption."""

LONGEST_HISTORY_DAYS = 3 * 365
"""Older history no longer moves today's estimate. Assumption."""


def whole_zone_dates(done: Sequence[TreatmentDone], work: Work) -> tuple[date, ...]:
    """Days on which a treatment was complete: parts within a fortnight are added up.

    Parameters
    ----------
    done : treatments recorded on one zone, any order.
    work : the treatment asked about.

    Returns
    -------
    Dates in rising order, each the day of the part that brought the sum to nine tenths.

    Assumption: parts within 14 days make a whole; the nine tenths are the trade record's rule.
    """
    dates: list[date] = []
    parts: list[TreatmentDone] = []
    for part in sorted((d for d in done if d.work is work), key=lambda d: d.done_on):
        parts = [p for p in parts if (part.done_on - p.done_on).days <= PARTS_TOGETHER_DAYS]
        parts.append(part)
        if sum(p.share for p in parts) >= WHOLE_ZONE_SHARE - 1e-9:
            dates.append(part.done_on)
            parts = []
    return tuple(dates)


def share_begun(done: Sequence[TreatmentDone], work: Work, today: date) -> float:
    """Share of the zone that a treatment begun but not finished has reached, 0..0.9.

    Parameters
    ----------
    done : treatments recorded on one zone, any order; those planned after today may be among them.

    Assumption: parts older than 14 days are no longer gone on with.
    """
    parts: list[TreatmentDone] = []
    for part in sorted((d for d in done if d.work is work), key=lambda d: d.done_on):
        parts = [p for p in parts if (part.done_on - p.done_on).days <= PARTS_TOGETHER_DAYS]
        parts.append(part)
        if sum(p.share for p in parts) >= WHOLE_ZONE_SHARE - 1e-9:
            parts = []
    recent = [p for p in parts if (today - p.done_on).days <= PARTS_TOGETHER_DAYS]
    return sum(p.share for p in recent)


def zone_start(book: ZoneBook, today: date) -> date:
    """First day the wear model follows this zone: its polish where dated, else its care; never
    before its pour.

    Assumption: history older than three years is left out.
    """
    start = book.zone.starts_on
    if book.zone.opening in (Opening.DATED, Opening.ABOUT) and book.zone.polished_on:
        start = min(start, book.zone.polished_on)
    if book.zone.poured_on is not None:
        start = max(start, book.zone.poured_on)
    return min(today, max(start, today - timedelta(days=LONGEST_HISTORY_DAYS)))


def thousand_passes(books: Sequence[ZoneBook], first: date, days: int) -> Floats:
    """Weighted passes in thousands, shape (zones, days), from rows or from the traffic level, the
    latter over the year as the site's counted zones.

    Assumption: weights of each kind of traffic and the footfall of each level, see trade/traffic.
    """
    passes = np.zeros((len(books), days))
    for z, book in enumerate(books):
        # before care began nobody typed a level: the first one known is the best guess
        passes[z, :] = FOOTFALL_OF_LEVEL[book.zone.spans[0].traffic] / 1000.0
        for span in book.zone.spans:
            where = _days_between(span.from_on, span.to_on, first, days)
            passes[z, where] = FOOTFALL_OF_LEVEL[span.traffic] / 1000.0
        if book.by_month:
            months = [(first + timedelta(days=day)).month for day in range(days)]
            passes[z, :] *= np.array(book.by_month)[np.array(months) - 1]
        if book.traffic:
            _lay_traffic_rows(passes[z], book, first, days)
        for season in book.seasons:
            carried = [season.covers(first + timedelta(days=day)) for day in range(days)]
            passes[z, carried] *= season.factor
    return passes


def _lay_traffic_rows(row: Floats, book: ZoneBook, first: date, days: int) -> None:
    summed = np.zeros(days)
    covered = np.zeros(days, dtype=bool)
    for traffic in book.traffic:
        where = _days_between(traffic.from_on, traffic.to_on, first, days)
        summed[where] += PASS_WEIGHT[traffic.kind] * traffic.per_day / 1000.0
        covered[where] = True
    row[covered] = summed[covered]
    last = max(t.to_on or date.max for t in book.traffic)
    if last < first + timedelta(days=days - 1):
        # after the last count the floor is walked as it last was, not as its level says
        rows = [t for t in book.traffic if t.to_on == last]
        row[max(0, (last - first).days + 1) :] = (
            sum(PASS_WEIGHT[t.kind] * t.per_day for t in rows) / 1000.0
        )


def counted(books: Sequence[ZoneBook]) -> Flags:
    """Whether a zone's footfall was counted rather than taken from a level, shape (zones,).

    Assumption: one counted row is enough, since the last one is carried on.
    """
    return np.array([any(t.counted for t in book.traffic) for book in books], dtype=bool)


def runs_by_itself(routine: Routine) -> bool:
    """Whether the routine happens without being planned as visits.

    What others do runs by itself; what we do runs by itself when it comes weekly or oftener,
    and is planned as visits when it comes more rarely.

    Assumption: the week is where a standing round ends and a visit begins.
    """
    return routine.performer is not Performer.US or (
        typical_gap_days(routine.rule) <= STANDING_GAP_DAYS
    )


def routine_dates(routine: Routine, first: date, last: date) -> tuple[date, ...]:
    """Days from `first` to `last` on which the routine is believed to run.

    Assumption: a routine known to be missed runs on no day; any other proof is believed.
    """
    if routine.proof is Proof.KNOWN_MISSED:
        return ()
    rule = Recurrence(
        rule=routine.rule,
        starts_on=routine.starts_on,
        ends_on=routine.ends_on,
        except_on=routine.except_on,
    )
    return rule.dates(first, last)


def treatment_masks(
    books: Sequence[ZoneBook],
    surface: Surface,
    first: date,
    days: int,
    *,
    recorded: bool = True,
    extra: Sequence[tuple[int, Work, date]] = (),
) -> tuple[tuple[Work, Effect, Flags], ...]:
    """Which treatment reaches which zone on which day, in the order of one night.

    Parameters
    ----------
    books : zones of one surface.
    first, days : the day axis.
    recorded : take in what was recorded as done.
    extra : (zone index, work, day) triples to lay on top, e.g. held visits.

    Returns
    -------
    (work, its effect, mask (zones, days)) for every treatment with an effect on the wear state.

    Source: order of a night, common practice, no source.
    """
    last = first + timedelta(days=days - 1)
    laid: defaultdict[tuple[int, Work], list[date]] = defaultdict(list)
    for zone, done, day in extra:
        laid[zone, done].append(day)
    masks: list[tuple[Work, Effect, Flags]] = []
    for work in ORDER_IN_A_NIGHT:
        rung = surface.rung(work)
        if rung is None or rung.effect == NO_EFFECT:
            continue
        mask = np.zeros((len(books), days), dtype=bool)
        for z, book in enumerate(books):
            on: list[date] = list(whole_zone_dates(book.done, work)) if recorded else []
            for routine in book.routines:
                if routine.work is work and runs_by_itself(routine):
                    on.extend(routine_dates(routine, first, last))
            on.extend(laid.get((z, work), ()))
            for day in on:
                if first <= day <= last:
                    mask[z, (day - first).days] = True
        masks.append((work, rung.effect, mask))
    return tuple(masks)


def known_spread_days(book: ZoneBook) -> int:
    """How uncertain the date of the floor's last polish is, in days either side.

    Assumption: the widest of the spreads that were typed.
    """
    about = [d.about_days for d in book.done if d.known is DateKnown.ABOUT]
    return max([book.zone.about_days, *about])


def _days_between(start: date, end: date | None, first: date, days: int) -> slice:
    low = max(0, (start - first).days)
    high = days if end is None else min(days, (end - first).days + 1)
    return slice(low, max(low, high))
