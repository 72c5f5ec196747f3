"""What a rung may not do yet: minimum ages, the densifier's wait, coat limit, calendar caps."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from floorcare.ground.trade.book import ZoneBook
from floorcare.ground.trade.routine import Proof
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.trade.treatment import LOCAL_REPAIRS, Work
from floorcare.ground.wear.books.from_books import runs_by_itself, whole_zone_dates

TAKES_FILM_OFF = (Work.STRIP, Work.REPOLISH, Work.FULL_RESTORATION)
"""Works after which coats are counted from none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RungLimits:
    """Limits of one zone's ladder, one entry a rung.

    not_before : first day the rung is allowed.
    not_before_why : which age or wait that is, "" where none binds.
    cap_on : the day by which the calendar cap asks for it, None without a cap.
    last_on : when it was last done, None where not known.
    """

    work: Work
    not_before: date
    not_before_why: str
    cap_on: date | None
    last_on: date | None


def _allowed_from(book: ZoneBook, rung: Rung, start: date) -> tuple[date, str]:
    allowed, why = start, ""
    if book.zone.poured_on is not None:
        aged = book.zone.poured_on + timedelta(days=rung.min_age_days)
        if aged > allowed:
            allowed, why = aged, f"{rung.min_age_days} days after the pour"
    for day in whole_zone_dates(book.done, Work.DENSIFY)[-1:]:
        # a night belongs to the date it starts, so a wait of up to 24 h ends the next date
        waited = day + timedelta(days=-(-rung.after_densify_hours // 24))
        if waited > allowed:
            allowed, why = waited, f"{rung.after_densify_hours} h after the densifier"
    return allowed, why


def first_allowed(book: ZoneBook, surface: Surface, work: Work) -> tuple[date, str]:
    """First day a work is allowed on a zone, and which age or wait that is, "" where none binds.

    A work the surface keeps no method for has no age to wait for.

    Source: minimum ages and waits of the surface, see `limits_of`.
    """
    rung = surface.rung(work)
    return (date.min, "") if rung is None else _allowed_from(book, rung, book.zone.starts_on)


def last_done(book: ZoneBook, work: Work) -> date | None:
    """When a treatment last reached the whole zone; a polish date typed with the zone counts.

    Source: the zone's own records.
    """
    dates = list(whole_zone_dates(book.done, work))
    if work is Work.REPOLISH and book.zone.polished_on is not None:
        dates.append(book.zone.polished_on)
    if work is Work.RECOAT:
        # a re-polish ends with a protector of its own
        dates.extend(whole_zone_dates(book.done, Work.REPOLISH))
        if book.zone.polished_on is not None:
            dates.append(book.zone.polished_on)
    return max(dates, default=None)


def _last_renewed(book: ZoneBook, surface: Surface, work: Work) -> date | None:
    """When a rung or a harder one was last done; for a coat, also what ends with a whole film."""
    rank = surface.rung_index(work)
    harder = surface.ladder[rank + 1 :] if rank >= 0 else ()
    dates = [last_done(book, w) for w in (work, *harder)]
    if work is Work.RECOAT:
        coating = (
            w
            for w, rung in surface.methods.items()
            if rung.effect.film_to and w not in LOCAL_REPAIRS
        )
        dates.extend(last_done(book, w) for w in coating)
    return max((day for day in dates if day is not None), default=None)


def routinely_done(book: ZoneBook, work: Work, today: date) -> bool:
    """Whether a routine does the rung weekly or oftener anyway.

    Then no cap need ask for it, and once more between two of its nights is no answer to wear.
    Assumption: any routine that has not ended and is not known to be missed.
    """
    return any(
        r.work is work
        and r.proof is not Proof.KNOWN_MISSED
        and (r.ends_on is None or r.ends_on >= today)
        and runs_by_itself(r)
        for r in book.routines
    )


def limits_of(
    book: ZoneBook, surface: Surface, rungs: Sequence[Work], today: date
) -> tuple[RungLimits, ...]:
    """The limits of each rung for one zone, before the horizon is walked.

    Source: 28 days between pour and polish, thisisconcrete.com (contractor's page); 24 h between
    densifier and burnish, engineerfix.com; both outranked by the product's sheet.
    Assumption: where nobody knows when a rung was last done, its cap runs from the start of care.
    """
    limits = []
    for work in rungs:
        rung = surface.methods[work]
        allowed, why = _allowed_from(book, rung, book.zone.starts_on)
        last = _last_renewed(book, surface, work)
        cap = None
        if rung.cap_days is not None and not routinely_done(book, work, today):
            cap = (last or book.zone.starts_on) + timedelta(days=rung.cap_days)
        limits.append(
            RungLimits(work=work, not_before=allowed, not_before_why=why, cap_on=cap, last_on=last)
        )
    return tuple(limits)


def coats_since_film_came_off(book: ZoneBook) -> int:
    """Protector coats laid since the last strip, re-polish or restoration took the film off.

    Assumption: treatments older than the record are not counted.
    """
    off = [day for work in TAKES_FILM_OFF for day in whole_zone_dates(book.done, work)]
    if book.zone.polished_on is not None:
        off.append(book.zone.polished_on)
    since = max(off, default=date.min)
    return sum(1 for day in whole_zone_dates(book.done, Work.RECOAT) if day > since)
