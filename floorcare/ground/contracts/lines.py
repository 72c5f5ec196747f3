"""Promise lines as rows a person can read, with the last reading and today's condition."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from floorcare.ground.contracts.promised import (
    PromisedZone,
    ZoneKey,
    below_promise,
    promised_gu,
)
from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.reading import Measure
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.surface import Surface
from floorcare.ground.worktime.recurrence import typical_gap_days

MONTH_DAYS = 365.25 / 12


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseRow:
    """One promise, of a zone, or of a whole site where it is the same in all its zones.

    zone : SITE/ZONE, or SITE.
    promised : in words.
    reference_gu … promised_gu : of the look; None where no reference was agreed.
    read, read_on : last reading in words ("47.2 GU", "wet DCOF 0.43") and its day.
    gloss_gu, low_gu, high_gu : today's estimate with its 90 % band.
    """

    zone: str
    zone_name: str
    kind: PromiseKind
    promised: str
    starts_on: date
    ends_on: date
    reference_gu: float | None = None
    reference_on: date | None = None
    reference_state: str = ""
    promised_gu: float | None = None
    policy: str = ""
    confidence: float | None = None
    read: str = ""
    read_on: date | None = None
    gloss_gu: float | None = None
    low_gu: float | None = None
    high_gu: float | None = None
    evidence: str = ""
    is_below: bool = False
    is_guarded: bool = False


def promise_rows(
    zones: Sequence[PromisedZone],
    outlooks: Mapping[ZoneKey, ZoneOutlook],
    surfaces: Mapping[str, Surface],
    today: date,
) -> tuple[PromiseRow, ...]:
    """Promises by zone; an answer promised alike in all zones of a site stands once, at its head.

    Parameters
    ----------
    zones : of one contract and term.
    outlooks : the zones' condition today, those not under care left out.

    Source: records and conditions as they stand; wording only.
    """
    rows = []
    sites = {zone.book.site.code: zone.book for zone in zones}
    for code, book in sites.items():
        mine = [zone for zone in zones if zone.book.site.code == code]
        common = set(mine[0].lines).intersection(*(zone.lines for zone in mine[1:]))
        shared = {x for x in common if len(mine) > 1 and x.kind is PromiseKind.RESPONSE}
        for line in sorted(shared, key=lambda x: x.starts_on):
            name = f"{book.site.name}, all {len(mine)} zones"
            rows.append(_plain_row(code, name, line, _promised(line, None)))
        for zone in mine:
            for line in zone.lines:
                if line not in shared:
                    rows.append(_promise_row(zone, line, outlooks, surfaces, today))
    return tuple(rows)


def _plain_row(zone: str, name: str, line: PromiseLine, promised: str) -> PromiseRow:
    return PromiseRow(
        zone=zone,
        zone_name=name,
        kind=line.kind,
        promised=promised,
        starts_on=line.starts_on,
        ends_on=line.ends_on,
    )


def _promise_row(
    zone: PromisedZone,
    line: PromiseLine,
    outlooks: Mapping[ZoneKey, ZoneOutlook],
    surfaces: Mapping[str, Surface],
    today: date,
) -> PromiseRow:
    outlook = outlooks.get(zone.key)
    least = promised_gu(line, zone.surface(surfaces, today))
    row = _plain_row("/".join(zone.key), zone.spoken, line, _promised(line, zone, least))
    if line.kind is PromiseKind.SLIP:
        read, on = _last_slip(zone, line, today)
        guarded = outlook is not None and outlook.guarded
        return replace(row, read=read, read_on=on, is_guarded=guarded)
    if line.kind is not PromiseKind.APPEARANCE:
        return row
    row = replace(
        row,
        reference_gu=line.reference_gu,
        reference_on=line.reference_on,
        reference_state=line.reference_state.value if line.reference_gu else "",
        promised_gu=least,
        policy=line.policy.value,
        confidence=line.confidence,
    )
    if outlook is None:
        return row
    return replace(
        row,
        read=f"{outlook.read_gu:.1f} GU" if outlook.read_gu is not None else "",
        read_on=outlook.read_on,
        gloss_gu=outlook.gloss_gu,
        low_gu=outlook.low_gu,
        high_gu=outlook.high_gu,
        evidence=outlook.evidence.value,
        is_below=line.starts_on <= today <= line.ends_on
        and below_promise(zone, outlook, surfaces, today),
    )


def _promised(line: PromiseLine, zone: PromisedZone | None, least: float | None = None) -> str:
    """What a line promises, in words."""
    if line.kind is PromiseKind.RESPONSE:
        return f"answer to a call within {line.response_hours} h"
    if line.kind is PromiseKind.SLIP:
        return f"{line.slip_method} at least {line.slip_limit:g}, {line.slip_place}"
    if line.kind is PromiseKind.RHYTHM:
        promised = [r for r in zone.zone.routines if r.promised] if zone else []
        return ", ".join(_rhythm(r) for r in promised) or "the rhythm as agreed"
    if least is None or line.reference_gu is None:
        return "the look as agreed, no reference"
    share = least / line.reference_gu
    return f"gloss at least {least:.1f} GU, {share:.0%} of {line.reference_gu:g} GU"


def _rhythm(routine: Routine) -> str:
    gap = typical_gap_days(routine.rule)
    if gap <= 1:
        return f"{routine.work} daily"
    if gap < 7:
        return f"{routine.work} {7 / gap:.0f} times a week"
    if gap % 7 == 0:
        return f"{routine.work} every {gap / 7:.0f} weeks" if gap > 7 else f"{routine.work} weekly"
    months = round(gap / MONTH_DAYS)
    return f"{routine.work} every {months} months" if months > 1 else f"{routine.work} monthly"


NEVER_TESTED = "never tested"
"""What is said of slip that is promised and unknown: not that it is kept."""


def _last_slip(zone: PromisedZone, line: PromiseLine, today: date) -> tuple[str, date | None]:
    """The last slip test by the promised method, its worst station."""
    mine = [
        r
        for r in zone.zone.readings
        if r.measure is Measure.SLIP and r.method == line.slip_method and r.taken_on <= today
    ]
    if not mine:
        return NEVER_TESTED, None
    on = max(r.taken_on for r in mine)
    worst = min(r.value for r in mine if r.taken_on == on)
    return f"{line.slip_method} {worst:g}", on
