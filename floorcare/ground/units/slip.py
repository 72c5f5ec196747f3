"""Slip: which methods count, the least value for each place, and what a reading means.

A limit belongs to a method and a place. A method that was withdrawn, or that says nothing about
a wet floor in use, is refused with the reason rather than compared with somebody else's limit.
"""

from dataclasses import dataclass

PLACES: dict[str, str] = {
    "level": "a level floor",
    "ramp": "a ramp",
    "wet-plus": "a floor that is often wet",
    "outdoor": "an outdoor floor",
}
"""Kinds of place a limit belongs to, each with the words it is shown by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipMethod:
    """A way of measuring slip.

    name : as it stands on readings and promise lines.
    limits : (place, least passing value) pairs, in the method's own number.
    lowest, highest : what a typed value may be at all.
    decimals : as the method's results are written.
    source : where the limits stand.
    """

    name: str
    limits: tuple[tuple[str, float], ...]
    lowest: float
    highest: float
    decimals: int
    source: str

    def limit(self, place: str) -> float | None:
        """The least passing value at a place, None where the method names none.

        Source: `source` of the method.
        """
        return dict(self.limits).get(place)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipVerdict:
    """What a slip reading means: `limit` is what it was compared with, `sentence` says it."""

    passes: bool
    limit: float
    sentence: str


WET_DCOF = SlipMethod(
    name="wet DCOF",
    limits=(("level", 0.42), ("ramp", 0.45), ("wet-plus", 0.50), ("outdoor", 0.55)),
    lowest=0.0,
    highest=1.5,
    decimals=2,
    source="ANSI A326.3-2021 (level, wet-plus, outdoor); NFSI B101.3 (ramp)",
)
PENDULUM_PTV = SlipMethod(
    name="pendulum PTV",
    limits=(("level", 36.0),),
    lowest=0.0,
    highest=150.0,
    decimals=0,
    source="UK pendulum bands, wet: 0-24 high, 25-35 moderate, 36 and more low slip potential",
)
SLIP_METHODS: dict[str, SlipMethod] = {m.name: m for m in (WET_DCOF, PENDULUM_PTV)}

REFUSED_METHODS: dict[str, str] = {
    "ASTM C1028": "ASTM C1028 was withdrawn in February 2014",
    "wet SCOF": (
        "static friction after B101.1 was not written for mechanically polished floors in its "
        "older text and has been no ANSI standard since 2020"
    ),
    "dry DCOF": "a dry reading says nothing about the floor when it is wet",
}
"""Methods that turn up on old records, each with the reason for which it is not compared."""

PTV_BANDS: tuple[tuple[float, str], ...] = ((36.0, "low"), (25.0, "moderate"), (0.0, "high"))


def slip_method_problem(method: str, place: str) -> str:
    """Why a slip reading by this method cannot be judged at this place, or "".

    >>> slip_method_problem("ASTM C1028", "level")
    'ASTM C1028 was withdrawn in February 2014; use wet DCOF or pendulum PTV'
    >>> slip_method_problem("wet DCOF", "ramp")
    ''

    Source: withdrawal and scope as named in `REFUSED_METHODS`; limits of each method's `source`.
    """
    for refused, why in REFUSED_METHODS.items():
        if method.casefold() == refused.casefold():
            return f"{why}; use {' or '.join(SLIP_METHODS)}"
    known = SLIP_METHODS.get(method)
    if known is None:
        return f'"{method}" is no slip method known here; allowed {", ".join(SLIP_METHODS)}'
    if place not in PLACES:
        return f'"{place}" is no place known for slip; allowed {", ".join(PLACES)}'
    if known.limit(place) is None:
        fitting = [m.name for m in SLIP_METHODS.values() if m.limit(place) is not None]
        return (
            f'{method} has no published limit for the place "{place}"; use {" or ".join(fitting)}'
        )
    return ""


def slip_value_problem(method: str, value: float) -> str:
    """Why this cannot be a result of the method, or "".

    >>> slip_value_problem("wet DCOF", 45)
    'wet DCOF 45.00: allowed 0.00 to 1.50; was another method meant?'

    Source: pendulum scale 0 to 150; Assumption: DCOF up to 1.5.
    """
    known = SLIP_METHODS.get(method)
    if known is None or known.lowest <= value <= known.highest:
        return ""
    low, high, found = (f"{v:.{known.decimals}f}" for v in (known.lowest, known.highest, value))
    return f"{method} {found}: allowed {low} to {high}; was another method meant?"


def ptv_band(ptv: float) -> str:
    """The slip potential of a wet pendulum value: "high", "moderate" or "low".

    >>> [ptv_band(ptv) for ptv in (24, 25, 35, 36)]
    ['high', 'moderate', 'moderate', 'low']

    Raises
    ------
    ValueError : outside 0 to 150.

    Source: UK pendulum bands, 0-24, 25-35, 36 and more; whole-number gaps closed downwards.
    """
    if not PENDULUM_PTV.lowest <= ptv <= PENDULUM_PTV.highest:
        raise ValueError(slip_value_problem(PENDULUM_PTV.name, ptv))
    return next(band for limit, band in PTV_BANDS if ptv >= limit)


def slip_verdict(
    method: str, place: str, value: float, *, promised: float | None = None
) -> SlipVerdict:
    """Whether a slip reading keeps the method's minimum, and the promise where there is one.

    Parameters
    ----------
    method, place : as in `SLIP_METHODS` and `PLACES`.
    value : in the method's own number.
    promised : the contract's own least value; the stricter of the two counts.

    >>> slip_verdict("wet DCOF", "ramp", 0.42).sentence
    'wet DCOF 0.42 is below 0.45, the least for a ramp.'

    Raises
    ------
    ValueError : a method, place or value that cannot be judged.

    Source: limits of each method's `source`, compared with "at least".
    """
    problem = slip_method_problem(method, place) or slip_value_problem(method, value)
    if problem:
        raise ValueError(problem)
    known = SLIP_METHODS[method]
    minimum = dict(known.limits)[place]
    limit = max(minimum, promised or 0.0)
    # the mean of 0.41, 0.47 and 0.47 is a hair below 0.45 in binary and must not fail for that
    passes = round(value, 6) >= limit
    # a value just under its limit must not be printed as the limit itself
    decimals = known.decimals if round(value, known.decimals) == value else known.decimals + 2
    whose = "the promise" if limit > minimum else f"the least for {PLACES[place]}"
    sentence = (
        f"{method} {value:.{decimals}f} {'keeps' if passes else 'is below'} "
        f"{limit:.{known.decimals}f}, {whose}."
    )
    return SlipVerdict(passes=passes, limit=limit, sentence=sentence)
