"""Readings judged before they are believed: grouped into rounds, doubts said, nothing dropped."""

from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from math import exp, log, sqrt

from floorcare.findings import Finding
from floorcare.ground.trade.reading import Measure, Reading, RoundValue, SurfaceState
from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.units.gloss import trimmed_mean
from floorcare.ground.wear.books.angles import at_main_angle
from floorcare.ground.wear.estimate import Fit

MAIN_RANGE_GU = (10.0, 70.0)
"""Where 60° gloss reads well. Source: ASTM D523 (20° above 70 GU, 85° below 10 GU)."""
RISE_ERRORS = 3.0
"""A rise is asked about when it passes so many reading errors. Assumption."""

_STATE_ORDER = (SurfaceState.AFTER_CLEANING, SurfaceState.AFTER_BURNISH, SurfaceState.WET)


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedRounds:
    """What readings came to.

    believed : rounds for the estimate, by zone, day and state: gloss at the zone's main geometry,
        dry. All other rounds stand in `aside`, with a finding where a person should know.
    turned : rounds at another angle as the main one would have read them; their own are aside.
    findings : what a person is asked about; none of them stops anything.
    """

    believed: tuple[RoundValue, ...]
    aside: tuple[RoundValue, ...]
    turned: tuple[RoundValue, ...]
    findings: tuple[Finding, ...]


def judge_rounds(
    readings: tuple[Reading, ...], law: WearLaw, reset_on: Mapping[str, tuple[date, ...]]
) -> JudgedRounds:
    """Group station readings into rounds and say which of them a person should look at.

    Parameters
    ----------
    readings : of any zones and measures, in any order.
    law : the surface's law, for the reading error.
    reset_on : days of each zone's burnishes, recoats and re-polishes, rising.

    Source: geometry after ASTM D523; a rise without a treatment that resets is an Assumption of
    three reading errors.
    """
    rounds = group_rounds(readings)
    main = main_geometry(rounds)
    believed = tuple(r for r in rounds if _enters(r, main))
    aside = tuple(r for r in rounds if not _enters(r, main))
    turned = at_main_angle(rounds, main, law)
    findings = (*_kept_aside(aside, main, turned), *_out_of_range(believed))
    return JudgedRounds(
        believed=believed,
        aside=aside,
        turned=turned,
        findings=findings + _unexplained_rises(believed, law, reset_on),
    )


def group_rounds(readings: tuple[Reading, ...]) -> tuple[RoundValue, ...]:
    """The readings of one zone, day, measure, geometry and state taken together.

    Slip is left out: its methods are never averaged with one another.

    Source: from five values up the highest and the lowest are dropped, the rest averaged (Concrete
    Decor 13(6) 2013).
    """
    together: defaultdict[tuple[str, date, int, Measure, int], list[Reading]] = defaultdict(list)
    for r in readings:
        if r.measure is not Measure.SLIP:
            state = _STATE_ORDER.index(r.state)
            together[r.zone, r.taken_on, state, r.measure, r.geometry_deg].append(r)
    return tuple(
        RoundValue(
            zone=zone,
            on=on,
            measure=measure,
            geometry_deg=geometry,
            state=_STATE_ORDER[state],
            value=trimmed_mean(sorted(r.value for r in taken)),
            stations=len(taken),
            instrument=_instrument(taken),
        )
        for (zone, on, state, measure, geometry), taken in sorted(
            together.items(), key=lambda each: each[0]
        )
    )


def _instrument(taken: Sequence[Reading]) -> str:
    """The instrument most of the readings name, of two as common the first by code."""
    count = Counter(r.instrument for r in taken)
    return min(count, key=lambda code: (-count[code], code))


def main_geometry(rounds: tuple[RoundValue, ...]) -> dict[str, int]:
    """The gloss geometry each zone was most often read at; of two as common, the smaller angle
    from 60°.

    Assumption: gloss of one geometry is never turned into that of another.
    """
    seen: defaultdict[str, Counter[int]] = defaultdict(Counter)
    for r in rounds:
        if r.measure is Measure.GLOSS and r.state is not SurfaceState.WET:
            seen[r.zone][r.geometry_deg] += 1
    return {
        zone: min(count, key=lambda angle: (-count[angle], abs(angle - 60), angle))
        for zone, count in seen.items()
    }


def reading_error(law: WearLaw, stations: int) -> float:
    """Sd of ln gloss of a round of so many stations.

    Assumption: the law's instrument and station errors are independent.
    """
    return sqrt(law.instrument_sd**2 + law.station_sd**2 / stations)


def _enters(r: RoundValue, main: Mapping[str, int]) -> bool:
    return (
        r.measure is Measure.GLOSS
        and r.state is not SurfaceState.WET
        and r.value > 0
        and r.geometry_deg == main[r.zone]
    )


def _kept_aside(
    aside: tuple[RoundValue, ...], main: Mapping[str, int], turned: tuple[RoundValue, ...]
) -> tuple[Finding, ...]:
    """Wet and zero rounds one by one; rounds of another geometry once a zone and geometry, where
    the zone did not teach how to turn them."""
    findings = []
    used = {(r.zone, r.on, r.state) for r in turned}
    said = {(r.zone, r.geometry_deg) for r in aside if (r.zone, r.on, r.state) in used}
    for r in aside:
        if r.measure is not Measure.GLOSS:
            continue
        if r.state is SurfaceState.WET:
            findings.append(
                _asks(
                    f"zone {r.zone} was wet when it was read on {r.on}; the reading is kept but"
                    " not used",
                    f"{r.value:.1f} GU",
                    mend="read again on the dry floor",
                )
            )
        elif r.geometry_deg != main[r.zone]:
            if (r.zone, r.geometry_deg) not in said:
                findings.append(
                    _asks(
                        f"zone {r.zone} is read at {main[r.zone]}°; its readings at"
                        f" {r.geometry_deg}° are kept but not used, first on {r.on}",
                        f"{r.value:.1f} GU",
                        mend=f"read at {main[r.zone]}°, or correct the angle if it was mistyped",
                    )
                )
            said.add((r.zone, r.geometry_deg))
        else:
            findings.append(
                _asks(
                    f"zone {r.zone} has a gloss of zero on {r.on}; it is kept but not used",
                    "0 GU",
                    mend="read again, or correct the value",
                )
            )
    return tuple(findings)


def _out_of_range(believed: tuple[RoundValue, ...]) -> tuple[Finding, ...]:
    """Zones read at 60° beyond where that geometry reads well, each said once."""
    low, high = MAIN_RANGE_GU
    outside: defaultdict[str, list[RoundValue]] = defaultdict(list)
    for r in believed:
        if r.geometry_deg == 60 and not low <= r.value <= high:
            outside[r.zone].append(r)
    return tuple(
        _asks(
            f"zone {zone} was read at 60° outside the range of that angle"
            f" {'once' if len(rounds) == 1 else f'{len(rounds)} times'}, last on {rounds[-1].on}",
            f"{rounds[-1].value:.1f} GU",
            allowed=f"{low:g} to {high:g} GU at 60°",
            mend=f"read this zone at {20 if rounds[-1].value > high else 85}° as well",
        )
        for zone, rounds in outside.items()
    )


def _unexplained_rises(
    believed: tuple[RoundValue, ...], law: WearLaw, reset_on: Mapping[str, tuple[date, ...]]
) -> tuple[Finding, ...]:
    findings = []
    for before, after in pairwise(believed):
        if before.zone != after.zone:
            continue
        reset = reset_on.get(after.zone, ())
        near = reset[bisect_left(reset, before.on) : bisect_right(reset, after.on)]
        worked = any(_between(before, on, after) for on in near)
        error = sqrt(
            reading_error(law, before.stations) ** 2 + reading_error(law, after.stations) ** 2
        )
        if not worked and log(after.value / before.value) > RISE_ERRORS * error:
            findings.append(
                _asks(
                    f"zone {after.zone} rose from {before.value:.1f} GU on {before.on} to"
                    f" {after.value:.1f} GU on {after.on} without a burnish, recoat or re-polish"
                    " between",
                    f"{after.value:.1f} GU",
                    mend="enter the work that was done, or correct the reading",
                )
            )
    return tuple(findings)


def _between(before: RoundValue, on: date, after: RoundValue) -> bool:
    """Whether work on that day lies between the two rounds; a state says on which side it fell."""
    not_yet = before.state is SurfaceState.AFTER_CLEANING
    already = after.state is SurfaceState.AFTER_BURNISH
    return (
        before.on < on < after.on or (on == before.on and not_yet) or (on == after.on and already)
    )


def gross_findings(fit: Fit, zone_codes: tuple[str, ...], first_day: date) -> tuple[Finding, ...]:
    """Readings the rest of their zone contradicts; kept, but hardly believed.

    Parameters
    ----------
    zone_codes : (Z,), the zones' codes in the order of the fit's columns.
    first_day : the date of day 0.

    Assumption: a reading is called gross above an even chance.
    """
    columns = fit.columns
    findings = []
    for reading in fit.gross.nonzero()[0].tolist():
        on = first_day + timedelta(days=int(columns.reading_day[reading]))
        off = abs(float(fit.residual[reading]))
        findings.append(
            _asks(
                f"zone {zone_codes[int(columns.reading_zone[reading])]}: the reading of {on} is"
                f" {off:.0f} times its expected error away from what the zone's other readings"
                " say; it is kept but hardly counts",
                f"{exp(float(columns.reading_ln[reading])):.1f} GU",
                mend="correct the value if it was mistyped, or read again",
            )
        )
    return tuple(findings)


def _asks(problem: str, value: str, *, allowed: str = "", mend: str = "") -> Finding:
    return Finding(problem=problem, value=value, allowed=allowed, mend=mend, weight="asks")
