"""Sequence: what may not meet on one floor on one night, and the order of steps inside a method.

Within a night the timeline keeps the trade's order; between nights the densifier's wait is kept
here.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due


def spaced(case: ZoneCase, dues: Sequence[Due]) -> tuple[Due, ...]:
    """The dues with none that must wait for a densifier inside that wait.

    What is wanted after a densifier comes after its wait, if need be a little late; what is wanted
    before it is over before the densifier may come.

    Parameters
    ----------
    dues : of one zone, any order.

    Source: `after_densify_hours` of the surface; 24 h between densifier and burnish,
    engineerfix.com.
    """
    found = list(dues)
    for at, densify in enumerate(dues):
        if densify.work is Work.DENSIFY:
            _space(case, found, at)
    return tuple(found)


def _space(case: ZoneCase, dues: list[Due], at: int) -> None:
    for other, due in enumerate(dues):
        rung = case.surface.rung(due.work)
        if other == at or rung is None or rung.after_densify_hours == 0:
            continue
        densify, wait = dues[at], timedelta(days=-(-rung.after_densify_hours // 24))
        if due.target >= densify.target:
            first = densify.latest + wait
            if due.earliest < first:
                dues[other] = _not_before(due, first)
        elif due.latest >= densify.earliest:
            dues[other] = replace(due, latest=max(due.target, densify.earliest - _DAY))
            dues[at] = _not_before(densify, dues[other].latest + _DAY)


_DAY = timedelta(days=1)


def _not_before(due: Due, first: date) -> Due:
    target = max(due.target, first)
    return replace(
        due, earliest=max(due.earliest, first), target=target, latest=max(due.latest, target)
    )


def film_products(surface: Surface) -> frozenset[str]:
    """Products that stay on the floor as its film: what a recoat lays by hand, no machine's wash.

    Source: the surface's own recoat.
    """
    recoat = surface.rung(Work.RECOAT)
    steps = recoat.steps if recoat is not None else ()
    return frozenset(step.product for step in steps if step.product and not step.machine)


def step_problem(surface: Surface, rung: Rung) -> str:
    """What is out of order inside a method, "" where nothing is.

    Protector goes on a floor that was left to dry, and no dust is made after it.

    Source: polish from low to high grit, protector last: cleanlink.com 19561; on a clean dry floor
    only, common practice, no source.
    """
    protectors = film_products(surface)
    coated, wet = "", ""
    for step in rung.steps:
        machine = surface.machines.get(step.machine)
        if coated and machine is not None and machine.dust:
            return f'"{step.name}" makes dust after the protector of "{coated}"'
        if step.product in protectors:
            if wet:
                return f'"{step.name}" lays protector before the floor of "{wet}" is dry'
            coated = step.name
        # a wet step without a wait leaves the floor wet, a dry one says nothing
        if step.wet:
            wet = "" if step.wait_minutes else step.name
    return ""
