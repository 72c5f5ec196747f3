"""Instruments that read off since a day: all their zones move together."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import exp, hypot

import numpy as np

from floorcare.ground.wear.model import Flags, Floats
from floorcare.ground.wear.watch.alarm import Alarm, AlarmKind, Looked, Watched, days_asked_about
from floorcare.ground.wear.watch.alarm_words import said
from floorcare.ground.wear.watch.later import Later
from floorcare.ground.wear.watch.watches import Apart, Offset, offset_of

FEWEST_ZONES = 3
"""An instrument is watched where it read so many zones; fewer cannot be told from their floors.
Assumption."""
SMALLEST_OFFSET_LN = 0.012
"""Offsets below this are no matter: 0.6 GU at 50 GU, half a meter's own error. Assumption."""

OWN_CAUSE_SHARE = 0.5
"""A further instrument rings only if it stands out half as far as the first: what an offset of a
somewhat other shape leaves behind is the same cause. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterOffset:
    """What an instrument was found to read off since a day.

    ln : at once, or a year where it grows.
    """

    instrument: str
    since: date
    ln: float
    grows: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterOffsets:
    """What instruments were found to read off."""

    found: tuple[MeterOffset, ...] = ()

    def at(self, watched: Watched, later: Later) -> Floats:
        """(N, J), ln that the readings set apart are off.

        Assumption: the offsets add up and are the same on all floors.
        """
        off = np.zeros(later.reading.shape)
        for each in self.found:
            day = watched.day_of(each.since)
            hit = read_with(watched, later, each.instrument) & (later.day >= day)
            years = (later.day - day) / 365.25
            off += np.where(hit, each.ln * (years if each.grows else 1.0), 0.0)
        return off

    def doubt_ln(self, watched: Watched) -> float:
        """Sd in ln gloss of what may still be wrong: the other meter may be the one that is off.

        Assumption: as large as what was found.
        """
        years = [(watched.today - each.since).days / 365.25 for each in self.found]
        sizes = [o.ln * (y if o.grows else 1.0) for o, y in zip(self.found, years, strict=True)]
        return hypot(*sizes)


def read_with(watched: Watched, later: Later, instrument: str) -> Flags:
    """(N, J), the readings set apart that were taken with an instrument.

    Assumption: a round is read with one instrument.
    """
    own = np.array([code == instrument for code in watched.instrument], dtype=np.bool_)
    if not later.reading.size or not own.size:
        return np.zeros(later.reading.shape, dtype=np.bool_)
    mine: Flags = own[later.reading] & later.there
    return mine


def meter_alarms(looks: Sequence[Looked], limit: float) -> tuple[tuple[Alarm, ...], MeterOffsets]:
    """Instruments whose zones all read off together, and by how much.

    The strongest is taken first and its offset taken off before the others are looked at, so that
    a meter is not blamed for its neighbour.

    Parameters
    ----------
    looks : of all fleets the instruments read.
    limit : standard errors.

    Source: see `offset_of`.
    """
    codes = {code for looked in looks for code in looked.of.instrument}
    alarms: list[Alarm] = []
    offsets = MeterOffsets()
    while codes:
        tried = [(code, *_strongest(looks, offsets, code)) for code in sorted(codes)]
        code, offset, since, grows = max(tried, key=lambda each: abs(each[1].errors))
        strongest = max([abs(alarm.strength) for alarm in alarms], default=0.0)
        if abs(offset.errors) < max(limit, OWN_CAUSE_SHARE * strongest):
            break
        codes.discard(code)
        alarms.append(_alarm(looks, code, offset, since, grows))
        new = MeterOffset(instrument=code, since=since, ln=offset.ln, grows=grows)
        offsets = MeterOffsets(found=(*offsets.found, new))
    return tuple(alarms), offsets


NONE = Offset(ln=0.0, sd=1.0, zones=0, readings=0)


def _strongest(
    looks: Sequence[Looked], offsets: MeterOffsets, code: str
) -> tuple[Offset, date, bool]:
    """The likeliest beginning and shape of an offset; none where it does not matter."""
    today = looks[0].of.today
    best = NONE, today, False
    for place, since in enumerate(days_asked_about(today)):
        for grows in (False, True):
            offset = offset_of(_parts(looks, offsets, code, place, since), grows=grows)
            years = (today - since).days / 365.25 if grows else 1.0
            if offset is None or offset.zones < FEWEST_ZONES:
                continue
            matters = abs(offset.ln) * years >= SMALLEST_OFFSET_LN
            if matters and abs(offset.errors) > abs(best[0].errors):
                best = offset, since, grows
    return best


def _parts(
    looks: Sequence[Looked], offsets: MeterOffsets, code: str, place: int, since: date
) -> list[tuple[Apart, Flags, Floats]]:
    parts = []
    for looked in looks:
        rows = looked.since == place
        later = looked.later
        apart = looked.apart(offsets.at(looked.of, later)).rows(rows)
        years = np.where(later.there, (later.day - looked.of.day_of(since)) / 365.25, 0.0)
        parts.append((apart, read_with(looked.of, later, code)[rows], years[rows]))
    return parts


def _alarm(
    looks: Sequence[Looked],
    code: str,
    offset: Offset,
    since: date,
    grows: bool,
) -> Alarm:
    zones: set[str] = set()
    gloss: list[float] = []
    years: list[float] = []
    codes: set[str] = set()
    for looked in looks:
        of, later = looked.of, looked.later
        mine = read_with(of, later, code) & (later.day >= of.day_of(since))
        zones.update(of.zones[zone] for zone in later.zone[mine.any(axis=1)].tolist())
        codes.update(of.instrument[r] for r in later.reading[later.there].tolist())
        years += ((later.day[mine] - of.day_of(since)) / 365.25).tolist()
        gloss += looked.expected.ln[mine & np.isfinite(looked.expected.ln)].tolist()
    expected = exp(float(np.median(gloss)))
    alarm = Alarm(
        kind=AlarmKind.INSTRUMENT,
        zones=tuple(sorted(zones)),
        instrument=code,
        against=tuple(sorted(codes - {code})),
        since=since,
        expected=expected,
        seen=expected * exp(offset.ln * (float(np.mean(years)) if grows else 1.0)),
        errors=offset.errors,
        strength=abs(offset.errors),
    )
    return said(alarm, grows=grows)
