"""Coat limit: so many protector coats may lie on a floor, then the film comes off before the next.

On the walk the limit closes the recoat, and the ladder climbs on. Recoats that a rhythm or a cap
asks for have no ladder: a strip goes before them, or, where it ends with coats of its own, takes
their place.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from floorcare.findings import Finding, Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.limits import TAKES_FILM_OFF, coats_since_film_came_off
from floorcare.ground.rules.reasons import WORK_NAMED, customer_sentence, said
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due


def within_coat_limit(case: ZoneCase, dues: Sequence[Due]) -> tuple[Due, ...]:
    """The dues with a strip before each recoat for which too many coats lie on the floor.

    Parameters
    ----------
    dues : of one zone, any order; those of the walk keep to the limit by themselves.

    What takes the film off and ends with coats of its own stands in the recoat's place. Where the
    surface knows no strip, it is the least rung above the recoat that takes the film off; where
    there is none either, the recoat stays (`coat_findings`).

    Source: the surface's coat limit, an Assumption of its file.
    """
    coats = coats_since_film_came_off(case.book)
    ahead = [(on, work) for work, on in case.laid if work in (Work.RECOAT, *TAKES_FILM_OFF)]
    kept: list[Due] = []
    for due in sorted(dues, key=lambda d: (d.target, d.work)):
        while ahead and min(ahead)[0] <= due.target:
            coats = _after(coats, ahead.pop(ahead.index(min(ahead)))[1])
        taken: tuple[Due, ...] = (due,)
        begun = due.reason.rule == "work begun"
        if due.work is Work.RECOAT and not begun and coats >= case.surface.coat_limit:
            taken = _stripped(case, due, coats)
        for one in taken:
            coats = _after(coats, one.work)
        kept.extend(taken)
    return tuple(kept)


def _after(coats: int, work: Work) -> int:
    if work in TAKES_FILM_OFF:
        return 0
    return coats + 1 if work is Work.RECOAT else coats


def _stripped(case: ZoneCase, recoat: Due, coats: int) -> tuple[Due, ...]:
    """A strip and the recoat, what takes the film off in its place, or the recoat as it was."""
    work = _takes_off(case)
    if work is None:
        return (recoat,)
    rung = case.surface.rung(work)
    ends_bare = rung is None or not rung.effect.film_to
    last = _last_for_strip(case, recoat) if ends_bare else recoat.target
    comes_off = case.due(
        work,
        earliest=recoat.earliest,
        target=last,
        latest=last if ends_bare else recoat.latest,
        reason=_reason(case, work, recoat.target, coats),
    )
    if not ends_bare:
        return (comes_off,)  # it ends with coats of its own
    # never before its strip: that one is over by the target, this one begins with it
    return comes_off, replace(recoat, earliest=recoat.target)


def _last_for_strip(case: ZoneCase, recoat: Due) -> date:
    """The recoat's own night, so that one visit may do both; where it has no other, one before."""
    own = [n for n in case.nights if recoat.earliest <= n <= min(recoat.latest, case.last_on)]
    before = [n for n in own if n < recoat.target]
    if before and not any(n > recoat.target for n in own):
        return before[-1]
    return recoat.target


def _takes_off(case: ZoneCase) -> Work | None:
    if case.surface.rung(Work.STRIP) is not None:
        return Work.STRIP
    above = case.surface.ladder[case.surface.rung_index(Work.RECOAT) + 1 :]
    return next((work for work in above if work in TAKES_FILM_OFF), None)


def _reason(case: ZoneCase, work: Work, coat_on: date, coats: int) -> Reason:
    limit = case.surface.coat_limit
    return Reason(
        rule="coat limit",
        inside=f"{WORK_NAMED[work]} for {case.area}: {coats} protector coats will lie on the "
        f"floor, and {limit} are the most; the film comes off before the coat of {said(coat_on)}.",
        customer=customer_sentence(work, case.area),
        facts=(("coats", coats), ("coat limit", limit), ("coat on", coat_on.isoformat())),
        rejected=((Work.RECOAT.value, f"{coats} coats lie already, {limit} are the most"),),
    )


def coat_findings(case: ZoneCase, dues: Sequence[Due]) -> tuple[Finding, ...]:
    """A recoat over the limit on a surface for which nothing is known that takes the film off.

    Source: the surface's coat limit.
    """
    coats, limit = coats_since_film_came_off(case.book), case.surface.coat_limit
    recoats = [due.target for due in dues if due.work is Work.RECOAT]
    over = coats + len(recoats) - limit
    if over <= 0 or not recoats or _takes_off(case) is not None:
        return ()
    first = sorted(recoats)[max(0, len(recoats) - over)]
    return (
        Finding(
            problem=f"{'/'.join(case.key)} gets more protector coats than {case.surface.name} may "
            f"carry from {first} on, and the surface knows nothing that takes the film off",
            value=f"{coats + len(recoats)} coats",
            allowed=f"{limit} coats",
            mend="give the surface a strip or a re-polish, or a higher coat limit",
            weight="asks",
        ),
    )
