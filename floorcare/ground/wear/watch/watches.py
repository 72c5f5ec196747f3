"""How strongly later readings speak for a change: log odds of a zone, offset of an instrument.

Every watch compares readings with a forecast made without them (see `later`). One gross reading
never decides: the readings' chance allows for any one of them being gross.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.model import Flags, Floats, Whole
from floorcare.ground.wear.watch.later import Expected, Later

FAR_ERRORS = 2.5
"""Readings further off than so many errors count less for an instrument. Assumption."""
ROUNDS_OF_WEIGHING = 3
"""How often an offset is reckoned anew with the weights of what is then far off. Assumption."""
COMMON_STEP_SD, COMMON_YEAR_SD = 0.010, 0.020
"""How far all floors of a fleet may be forecast wrong together: at once, and per year, ln gloss.
Assumption; with one meter nothing else tells its drift from the model's own error."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Apart:
    """Later readings less what was expected, J places a row.

    off : (N, J), ln gloss, 0 at empty places.
    there : (N, J), places that count.
    covariance : (N, J, J), of the expectation; error : (N, J), variance of a good reading.
    """

    off: Floats
    there: Flags
    covariance: Floats
    error: Floats

    def rows(self, index: Flags) -> "Apart":
        """Some of the rows.

        Assumption: rows stand on axis 0.
        """
        return Apart(
            off=self.off[index],
            there=self.there[index],
            covariance=self.covariance[index],
            error=self.error[index],
        )


def hold_against(
    columns: WearColumns,
    law: WearLaw,
    later: Later,
    expected: Expected,
    corrected: Floats,
) -> Apart:
    """The readings set apart, held against an expectation.

    Parameters
    ----------
    corrected : (N, J), ln taken off the readings first: what their instruments read off.

    Source: reading error as `reading_error`.
    """
    there = later.there & np.isfinite(expected.ln)
    seen = columns.reading_ln[later.reading] if later.reading.size else expected.ln
    stations = columns.reading_stations[later.reading] if later.reading.size else expected.ln
    error = law.instrument_sd**2 + law.station_sd**2 / stations
    if later.reading.size:
        error = error + columns.more_sd[later.reading] ** 2
    return Apart(
        off=np.where(there, seen - corrected - np.nan_to_num(expected.ln), 0.0),
        there=there,
        covariance=expected.covariance,
        error=np.where(there, error, 1.0),
    )


def in_doubt(apart: Apart, ln: float) -> Apart:
    """The same readings, whose common size is in doubt by so much more.

    Parameters
    ----------
    ln : sd of the doubt, ln gloss; the same for all places of a row.

    Assumption: a doubt about instruments moves all readings of a zone alike.
    """
    both = apart.there[:, :, None] & apart.there[:, None, :]
    return Apart(
        off=apart.off,
        there=apart.there,
        covariance=apart.covariance + np.where(both, ln**2, 0.0),
        error=apart.error,
    )


def ln_chances(apart: Apart, law: WearLaw) -> tuple[Floats, Floats]:
    """Log likelihood of each row's readings, of all (N,) and with each left out (N, J).

    Up to a constant of the row and of the place left out.

    Source: contaminated normal (Tukey 1960), at most one gross reading a row allowed for; a wider
    or left-out reading by the formula of Sherman & Morrison (1950).
    """
    spread = apart.covariance.copy()
    places = np.arange(apart.off.shape[1])
    spread[:, places, places] += apart.error
    precision = np.linalg.inv(spread)
    own = np.einsum("njj->nj", precision)
    pull = np.einsum("nji,ni->nj", precision, apart.off)
    size = np.linalg.slogdet(spread)[1]
    square = (apart.off * pull).sum(axis=1)
    count = apart.there.sum(axis=1)
    whole = _with_one_gross(apart, law, square + size, own, pull, apart.there, count)
    # what is left of precision and pull when place i (axis 1) is taken out
    share = precision / own[:, :, None]
    less_own = np.maximum(own[:, None, :] - share * precision, 0.0)
    less_pull = pull[:, None, :] - share * pull[:, :, None]
    less = (square + size)[:, None] - pull**2 / own + np.log(own)
    others = apart.there[:, None, :] & ~np.eye(places.size, dtype=np.bool_)
    fewer = count[:, None] - apart.there
    return whole, _with_one_gross(apart, law, less, less_own, less_pull, others, fewer)


def _with_one_gross(
    apart: Apart,
    law: WearLaw,
    deviance: Floats,
    own: Floats,
    pull: Floats,
    there: Flags,
    count: Whole,
) -> Floats:
    """Log likelihood over no reading being gross and each of them; places on the last axis."""
    good = np.log1p(-law.gross_share)
    wider = apart.error * (law.gross_factor**2 - 1.0)
    if own.ndim == 3:
        wider = wider[:, None, :]
    change = np.log1p(wider * own) - wider * pull**2 / (1.0 + wider * own)
    none = -0.5 * deviance + count * good
    one = -0.5 * (deviance[..., None] + change) + np.log(law.gross_share)
    one = np.where(there, one + (count[..., None] - 1) * good, -np.inf)
    together: Floats = np.logaddexp(none, np.logaddexp.reduce(one, axis=-1, initial=-np.inf))
    return together


def support(changed: Apart, unchanged: Apart, law: WearLaw) -> Floats:
    """(N,) log odds in favour of a change, however one reading is taken out.

    Returns
    -------
    The least of the log odds of all readings and of twice those with any one left out, which has
    fewer to go by; -inf with fewer than two readings.

    Assumption: what one reading alone carries is no alarm.
    """
    changed_all, changed_less = ln_chances(changed, law)
    unchanged_all, unchanged_less = ln_chances(unchanged, law)
    without = np.where(changed.there, 2.0 * (changed_less - unchanged_less), np.inf)
    least = np.minimum(changed_all - unchanged_all, without.min(axis=1, initial=np.inf))
    return np.where(changed.there.sum(axis=1) >= 2, least, -np.inf)


def mean_errors(apart: Apart) -> Floats:
    """(N,) how far all of a row's readings lie off together, in standard errors; 0 without any.

    Source: generalised least squares of a common offset (Aitken 1935).
    """
    ones = apart.there.astype(np.float64)
    weighed = np.linalg.solve(far_ones_wider(apart, np.zeros(ones.shape)), ones[:, :, None])[
        :, :, 0
    ]
    weight = np.maximum((ones * weighed).sum(axis=1), 1e-12)
    errors: Floats = (weighed * apart.off).sum(axis=1) / np.sqrt(weight)
    return errors


@dataclass(frozen=True, slots=True, kw_only=True)
class Offset:
    """What all readings of one instrument have in common since a day.

    ln, sd : its size, at once or a year, and the sd of that; ln gloss.
    zones, readings : behind it.
    """

    ln: float
    sd: float
    zones: int
    readings: int

    @property
    def errors(self) -> float:
        """The offset in its own sd."""
        return self.ln / self.sd


def offset_of(parts: Sequence[tuple[Apart, Flags, Floats]], *, grows: bool) -> Offset | None:
    """The offset of one instrument, from all fleets it reads.

    Parameters
    ----------
    parts : of each fleet: what was read apart, (N, J) which places were read with the instrument,
        (N, J) years since the day asked about.
    grows : the offset grows evenly from that day, its size is that of a year; else it is there
        at once.

    Returns
    -------
    None where the instrument read nothing.

    Source: generalised least squares over zones (Aitken 1935); what all instruments have in common
    is an unknown step and slope of known spread (Assumption).
    """
    zones = sum(int((read & apart.there).any(axis=1).sum()) for apart, read, _ in parts)
    readings = sum(int((read & apart.there).sum()) for apart, read, _ in parts)
    if readings == 0:
        return None
    common = np.zeros(3)
    for _ in range(ROUNDS_OF_WEIGHING):
        precision = np.diag([0.0, COMMON_STEP_SD**-2, COMMON_YEAR_SD**-2])
        pull = np.zeros(3)
        for apart, read_with, since in parts:
            shape = np.where(read_with & apart.there, since if grows else 1.0, 0.0)
            ones = apart.there.astype(np.float64)
            seen = np.stack([shape, ones, ones * since], axis=2)
            weighed = np.linalg.solve(far_ones_wider(apart, seen @ common), seen)
            precision += np.einsum("njp,njq->pq", seen, weighed)
            pull += np.einsum("njp,nj->p", weighed, apart.off)
        covariance = np.linalg.inv(precision)
        common = covariance @ pull
    return Offset(
        ln=float(common[0]), sd=float(np.sqrt(covariance[0, 0])), zones=zones, readings=readings
    )


def far_ones_wider(apart: Apart, common: Floats) -> Floats:
    """(N, J, J) covariance of the differences; a reading far off gets a wider error.

    Its error is widened until it lies no further off than the limit.

    Parameters
    ----------
    common : (N, J), what the readings are taken to have in common; the rest is looked at.

    Source: Huber (1964), weights of a reading beyond a limit; the limit is an Assumption.
    """
    own = np.einsum("njj->nj", apart.covariance)
    least = ((apart.off - common) / FAR_ERRORS) ** 2 - own
    spread = apart.covariance.copy()
    places = np.arange(apart.off.shape[1])
    spread[:, places, places] += np.maximum(apart.error, least)
    return spread
