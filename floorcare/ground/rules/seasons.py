"""Seasons: a coat is laid before the grit season, and a deep scrub takes out what it carried in.

Which work goes with which end of a season is data, `SEASON_RULES`; the seasons are the site's own.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from floorcare.findings import Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.limits import first_allowed
from floorcare.ground.rules.reasons import WORK_NAMED, customer_sentence, said
from floorcare.ground.trade.make_up import Season
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonRule:
    """How one work goes with a season.

    before : due early in the season it is drawn before it; else it is due after its end.
    within_days : from the season's first day, or after its last.
    """

    work: Work
    before: bool
    within_days: int


SEASON_RULES: tuple[SeasonRule, ...] = (
    SeasonRule(work=Work.RECOAT, before=True, within_days=42),
    SeasonRule(work=Work.DEEP_SCRUB, before=False, within_days=28),
)
"""A coat before grit comes in, a deep scrub after it: common practice, no source. Days: Assumption:
a coat due in the first six weeks of a season is laid before it, and the scrub follows within four.
"""

HARDER_THAN_SCRUB = (Work.STRIP, Work.REPOLISH, Work.FULL_RESTORATION)
"""Works that take out what a season carried in as well."""

SEASON_FACT = "drawn before"
"""The fact of a reason whose work was drawn before a season."""


def spans_of(season: Season, first: date, last: date) -> tuple[tuple[date, date], ...]:
    """The season's first and last days in every year in which it touches first to last.

    A day that a year does not have (29 February) is the day before it.

    Source: the season's own days of the year.
    """
    spans = []
    for year in range(first.year - 1, last.year + 1):
        begins = _day(year, season.from_month, season.from_day)
        ends = _day(year, season.to_month, season.to_day)
        if ends < begins:
            ends = _day(year + 1, season.to_month, season.to_day)
        if begins <= last and ends >= first:
            spans.append((begins, ends))
    return tuple(spans)


def _day(year: int, month: int, day: int) -> date:
    while True:
        try:
            return date(year, month, day)
        except ValueError:
            day -= 1


def drawn_before_seasons(case: ZoneCase, dues: Sequence[Due]) -> tuple[Due, ...]:
    """The dues with those that fall early in a season drawn before it, where a night is left.

    What a promised rhythm names keeps its date; so does what its minimum age does not allow yet.

    Source: `SEASON_RULES`.
    """
    return tuple(_drawn(case, due) for due in dues)


def _drawn(case: ZoneCase, due: Due) -> Due:
    promised = any(r.promised and r.work is due.work for r in case.book.routines)
    if promised and due.reason.rule == "set rhythm":
        return due
    for rule in SEASON_RULES:
        if not rule.before or rule.work is not due.work:
            continue
        for season in case.book.seasons:
            for begins, _ in spans_of(season, due.target, due.target):
                early = due.target < begins + timedelta(days=rule.within_days)
                nights = [n for n in case.opportunities if n < begins]
                if (
                    early
                    and nights
                    and nights[-1] >= first_allowed(case.book, case.surface, due.work)[0]
                ):
                    return _moved(case, due, season, begins, nights[-1])
    return due


def _moved(case: ZoneCase, due: Due, season: Season, begins: date, night: date) -> Due:
    rung = case.surface.rung(due.work)
    room = timedelta(days=rung.forward_days if rung is not None else 0)
    reason = due.reason
    return replace(
        due,
        earliest=max(min(due.earliest, night - room), case.opportunities[0], _least(case, due)),
        target=night,
        latest=night,
        reason=replace(
            reason,
            inside=f"{reason.inside[:-1]}; laid before {season.name} comes in from {said(begins)}.",
            facts=(*reason.facts, (SEASON_FACT, season.name), ("season from", begins.isoformat())),
            rejected=(
                *reason.rejected,
                (f"{due.work} on {due.target}", f"lies in the season of {season.name}"),
            ),
        ),
    )


def _least(case: ZoneCase, due: Due) -> date:
    return min(first_allowed(case.book, case.surface, due.work)[0], due.earliest)


def season_dues(case: ZoneCase, others: Sequence[Due]) -> tuple[Due, ...]:
    """What is due after the seasons that end over the horizon, or ended shortly before it.

    Parameters
    ----------
    others : dues the zone has already; the same work or a harder one in the window answers.

    Source: `SEASON_RULES`.
    """
    return tuple(
        due
        for rule in SEASON_RULES
        if not rule.before and case.surface.rung(rule.work) is not None
        for season in case.book.seasons
        for _, ends in spans_of(season, case.today - timedelta(days=rule.within_days), case.last_on)
        if (due := _after(case, rule, season, ends, others)) is not None
    )


def _after(
    case: ZoneCase, rule: SeasonRule, season: Season, ends: date, others: Sequence[Due]
) -> Due | None:
    first, last = ends + timedelta(days=1), ends + timedelta(days=rule.within_days)
    answering = {rule.work, *HARDER_THAN_SCRUB}
    done = [d.done_on for d in case.done_or_standing if d.work in answering]
    planned = [d.target for d in others if d.work in answering]
    # a zone taken into care after the season has none of its grit to lose
    if case.book.zone.starts_on > ends or any(first <= on <= last for on in (*done, *planned)):
        return None
    allowed = max(first, first_allowed(case.book, case.surface, rule.work)[0])
    target = max(allowed, case.first_night)
    if allowed > last or target > case.last_on:
        return None
    return case.due(
        rule.work,
        earliest=allowed,
        target=target,
        latest=max(target, last),
        reason=Reason(
            rule="season",
            inside=f"{WORK_NAMED[rule.work]} for {case.area}: {season.name} is over on "
            f"{said(ends)}; what it carried in comes out within {rule.within_days} days.",
            customer=customer_sentence(rule.work, case.area),
            facts=(("season", season.name), ("ends on", ends.isoformat())),
        ),
    )
