"""Routines and promises out of their rows."""

import re
from collections.abc import Iterator
from datetime import date
from typing import Any

from floorcare.faces.intake.columns import PROMISES, ROUTINES
from floorcare.faces.intake.contracts import ask_about_term
from floorcare.faces.intake.drafts import ZoneDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.notes import Notes
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.routine import Routine
from floorcare.ground.units.slip import SLIP_METHODS, slip_method_problem
from floorcare.ground.worktime.every import UNDERSTOOD, every_to_rule

_NEEDS = {
    PromiseKind.SLIP: ("slip_method", "slip_limit"),
    PromiseKind.RESPONSE: ("response_hours",),
}


def rhythm(text: str, starts_on: date) -> tuple[str, str]:
    """The recurrence rule of some words, and what is wrong with them.

    >>> rhythm("every 6 weeks", date(2026, 3, 2))
    ('FREQ=WEEKLY;INTERVAL=6', '')
    >>> rhythm("biweekly", date(2026, 3, 2))
    ('', 'may mean twice a week or every 2 weeks; write which')
    """
    try:
        return every_to_rule(text, starts_on), ""
    except ValueError as trouble:
        said = str(trouble).partition(". Understood")[0]
        return "", re.sub(r'^".*?"(?::| ) ?', "", said)


def take_routines(lines: Iterator[Line], so_far: Gathering) -> None:
    """Routines, onto the zone or every zone they name."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells = line.cells
        zones = [
            (site, zone)
            for site, zone in so_far.zones_of(ROUTINES, line)
            if cells["zone"] or _under_care(zone, cells["starts_on"], cells["ends_on"])
        ]
        good = so_far.in_order(ROUTINES, line, "starts_on", "ends_on")
        rule = _rule(line, so_far)
        if not (rule and good and line.fits):
            continue
        routine = Routine(
            work=cells["work"],
            rule=rule,
            starts_on=cells["starts_on"],
            performer=cells["performer"],
            proof=cells["proof"],
            ends_on=cells["ends_on"],
            except_on=cells["except_on"],
            minutes=cells["minutes"],
            promised=cells["promised"],
        )
        for site, zone in zones:
            key = (site.code, zone.code, routine.work, routine.starts_on)
            what = f"this work on zone {site.code}/{zone.code} from this day"
            if not so_far.first_of(ROUTINES, line, seen, key, "work", what):
                break
            if not so_far.takes_back(line, site.code, zone.code, routine):
                zone.routines.append(routine)


def take_promises(lines: Iterator[Line], so_far: Gathering) -> None:
    """Promise lines, onto the zone or every zone they name; terms of one kind may not overlap."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells = line.cells
        zones = [
            (site, zone)
            for site, zone in so_far.zones_of(PROMISES, line)
            if cells["zone"] or _under_care(zone, cells["starts_on"], cells["ends_on"])
        ]
        good = so_far.in_order(PROMISES, line, "starts_on", "ends_on")
        good = so_far.is_past(PROMISES, line, "reference_on", cells["reference_on"]) and good
        good = _complete(line, so_far) and good
        if not (good and line.fits):
            continue
        promise = _promise(line)
        for site, zone in zones:
            where = f"{site.code}/{zone.code}"
            if not cells["withdrawn"] and _clashes(line, promise, where, zone, so_far):
                break
            key = (where, promise.contract, promise.kind, promise.starts_on)
            if not so_far.first_of(PROMISES, line, seen, key, "starts_on", "the promise"):
                break
            if not so_far.takes_back(line, site.code, zone.code, promise):
                zone.promises.append((line.row, promise))
        if not cells["withdrawn"]:
            ask_about_term(line, so_far)


def _promise(line: Line) -> PromiseLine:
    cells = line.cells
    method = next(
        (name for name in SLIP_METHODS if name.casefold() == cells["slip_method"].casefold()), ""
    )
    return PromiseLine(
        contract=cells["contract"],
        kind=cells["kind"],
        starts_on=cells["starts_on"],
        ends_on=cells["ends_on"],
        reference_gu=cells["reference_gu"],
        reference_on=cells["reference_on"],
        reference_state=cells["reference_state"],
        loss_share=cells["loss_share"],
        confidence=cells["confidence"],
        policy=cells["policy"],
        slip_method=method,
        slip_limit=cells["slip_limit"],
        slip_place=cells["slip_place"],
        response_hours=cells["response_hours"],
    )


def _rule(line: Line, so_far: Gathering) -> str:
    every, starts_on = line.cells["every"], line.cells["starts_on"]
    if every is None or starts_on is None:
        return ""
    rule, problem = rhythm(every, starts_on)
    if problem:
        note_rhythm(so_far.notes, ROUTINES.name, line, problem)
    return rule


def note_rhythm(notes: Notes, file: str, line: Line, problem: str) -> None:
    """Note words that make no rhythm, with those that would."""
    notes.add(
        "stops",
        file,
        line.row,
        problem,
        column="every",
        value=line.typed("every"),
        allowed=UNDERSTOOD,
        mend="write it in one of the allowed forms",
    )


def _under_care(zone: ZoneDraft, starts_on: date | None, ends_on: date | None) -> bool:
    """Whether a zone's care and a term share a day."""
    first, last = zone.starts_on or date.min, zone.ends_on or date.max
    return (starts_on or date.min) <= last and first <= (ends_on or date.max)


def _complete(line: Line, so_far: Gathering) -> bool:
    """Whether the row holds what its kind of promise needs."""
    cells, kind = line.cells, line.cells["kind"]
    good = True
    for column in _NEEDS.get(kind, ()):
        if not line.typed(column):
            mend = "fill it in"
            so_far.note(
                "stops", PROMISES, line, column, f"a promise of {kind} needs {column}", mend=mend
            )
            good = False
    if kind is PromiseKind.SLIP and cells["slip_method"]:
        known = {name.casefold(): name for name in SLIP_METHODS}
        method = known.get(cells["slip_method"].casefold(), cells["slip_method"])
        problem = slip_method_problem(method, cells["slip_place"] or "level")
        if problem:
            what, _, mend = problem.partition("; ")
            so_far.note("stops", PROMISES, line, "slip_method", what, mend=mend)
            good = False
    if kind is PromiseKind.APPEARANCE and line.fits and cells["reference_gu"] is None:
        so_far.note(
            "asks",
            PROMISES,
            line,
            "reference_gu",
            "the look is promised without a reference, so there is nothing to hold it against",
            mend="enter the acceptance reading",
        )
    return good


def _clashes(
    line: Line, promise: PromiseLine, where: str, zone: ZoneDraft, so_far: Gathering
) -> bool:
    for row, other in zone.promises:
        if (
            other.kind is promise.kind
            and promise.starts_on <= other.ends_on
            and other.starts_on <= promise.ends_on
        ):
            so_far.note(
                "stops",
                PROMISES,
                line,
                "starts_on",
                f"row {row} promises {promise.kind} on zone {where} until {other.ends_on} already",
                mend="let one term end before the next starts",
            )
            return True
    return False
