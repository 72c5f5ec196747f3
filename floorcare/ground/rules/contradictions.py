"""Contradictions: promises that do not go together, or that nobody can keep as they are written.

Each is named and put to a person; planning goes on by the line that is named as holding.
"""

from collections.abc import Iterator
from itertools import combinations

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.treatment import TREATMENTS
from floorcare.ground.units.slip import SLIP_METHODS, slip_method_problem


def promise_findings(case: ZoneCase) -> tuple[Finding, ...]:
    """What contradicts itself in a zone's promises from today on.

    Source: the zone's own promise lines, routines and surface.
    """
    lines = [line for line in case.book.promises if line.ends_on >= case.today]
    found = [*_overlaps(case, lines), *_rhythms(case, lines)]
    for line in lines:
        if line.kind is PromiseKind.SLIP:
            found.extend(_slip(case, line))
        if line.kind is PromiseKind.RESPONSE and not line.response_hours:
            found.append(
                _asks(
                    case,
                    f"{line.contract} promises a response and names no hours",
                    mend="enter response_hours, or take the line out",
                )
            )
    return tuple(found)


def _asks(
    case: ZoneCase, problem: str, *, value: str = "", allowed: str = "", mend: str
) -> Finding:
    return Finding(
        problem=f"{'/'.join(case.key)}: {problem}",
        value=value,
        allowed=allowed,
        mend=mend,
        weight="asks",
    )


def _terms(line: PromiseLine) -> tuple[tuple[str, object], ...]:
    """What a line promises, without its days and its contract."""
    match line.kind:
        case PromiseKind.APPEARANCE:
            return (
                ("reference GU", line.reference_gu),
                ("loss share", line.loss_share),
                ("confidence", line.confidence),
                ("policy", line.policy.value),
                ("state", line.reference_state.value),
            )
        case PromiseKind.SLIP:
            return (
                ("method", line.slip_method),
                ("limit", line.slip_limit),
                ("place", line.slip_place),
            )
        case PromiseKind.RESPONSE:
            return (("hours", line.response_hours),)
        case _:
            return ()


def _overlaps(case: ZoneCase, lines: list[PromiseLine]) -> Iterator[Finding]:
    """Two lines of a kind that hold on one day and do not say the same; the later one counts."""
    for first, second in combinations(lines, 2):
        shared = max(first.starts_on, second.starts_on), min(first.ends_on, second.ends_on)
        differing = [
            f"{name} {one} and {other}"
            for (name, one), (_, other) in zip(_terms(first), _terms(second), strict=False)
            if one != other
        ]
        if first.kind is second.kind and shared[0] <= shared[1] and differing:
            yield _asks(
                case,
                f"{first.contract} and {second.contract} promise {first.kind} differently from "
                f"{shared[0]} to {shared[1]}; the latter is planned for",
                value=", ".join(differing),
                allowed="one promise of a kind on one day",
                mend="end one line before the other begins",
            )


def _rhythms(case: ZoneCase, lines: list[PromiseLine]) -> Iterator[Finding]:
    promised = [r for r in case.book.routines if r.promised]
    # a routine that has ended keeps no promise any more
    kept = [r for r in promised if r.ends_on is None or r.ends_on >= case.today]
    lacking = [line for line in lines if line.kind is PromiseKind.RHYTHM] if not kept else []
    for line in lacking[:1]:
        yield _asks(
            case,
            f"{line.contract} promises a rhythm and no routine says which",
            mend="mark the routine as promised, or take the line out",
        )
    for routine in kept:
        if case.surface.rung(routine.work) is None and routine.work in TREATMENTS:
            yield _asks(
                case,
                f"{routine.work} is promised, and {case.surface.name} has no method for it",
                mend="promise another treatment, or give the surface the method",
            )


def _slip(case: ZoneCase, line: PromiseLine) -> Iterator[Finding]:
    place = line.slip_place or "level"
    span = case.book.zone.span_about(case.today)
    problem = slip_method_problem(line.slip_method, place)
    if problem:
        what, _, mend = problem.partition("; ")
        yield _asks(
            case,
            f"{line.contract} promises slip by a method that cannot be judged: {what}",
            value=line.slip_method,
            mend=mend or "name another method",
        )
        return
    if place != span.place:
        yield _asks(
            case,
            f"{line.contract} promises slip for the place {place}, and the zone is entered as "
            f"{span.place}; the promise's is judged by",
            mend="make both the same",
        )
    least = SLIP_METHODS[line.slip_method].limit(place)
    if line.slip_limit is not None and least is not None and line.slip_limit < least:
        yield _asks(
            case,
            f"{line.contract} promises less slip resistance than the method's least for the "
            "place; the least is kept",
            value=f"{line.slip_limit:g}",
            allowed=f"{least:g} or more",
            mend="promise the least or more",
        )
