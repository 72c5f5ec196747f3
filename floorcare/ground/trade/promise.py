"""Promises and policies: what a contract guarantees of a zone, and how work is chosen under it."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from floorcare.ground.trade.reading import SurfaceState


class PromiseKind(StrEnum):
    """What is guaranteed."""

    APPEARANCE = "appearance"
    RHYTHM = "rhythm"
    SLIP = "slip"
    RESPONSE = "response"


class Policy(StrEnum):
    """How work is chosen: the contractor's own rhythm, or by measured wear, mildly or cheaply."""

    AS_AGREED = "as agreed"
    GENTLEST = "gentlest"
    CHEAPEST = "cheapest"


DEFAULT_LOSS_SHARE = 0.20
"""Promised loss as a share of the reference. Assumption, editable per contract."""
DEFAULT_CONFIDENCE = 0.75
"""Probability with which the look is to be kept. Assumption, editable per contract."""
READING_ERRORS_ALLOWED = 3.0
"""The allowed loss is never less than this many reading errors (design rule)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseLine:
    """One line of a contract's promise for one zone.

    contract : the contract's code.
    kind : what is promised; the fields below belong to the kinds named.
    starts_on, ends_on : the term, both days included.
    reference_gu, reference_on, reference_state : appearance; the agreed reading, frozen here.
    loss_share : appearance; the share of the reference that may be lost.
    confidence : appearance; q, 0.5 to 0.99.
    policy : appearance; how work is chosen.
    slip_method, slip_limit, slip_place : slip.
    response_hours : response.
    """

    contract: str
    kind: PromiseKind
    starts_on: date
    ends_on: date
    reference_gu: float | None = None
    reference_on: date | None = None
    reference_state: SurfaceState = SurfaceState.AFTER_BURNISH
    loss_share: float = DEFAULT_LOSS_SHARE
    confidence: float = DEFAULT_CONFIDENCE
    policy: Policy = Policy.GENTLEST
    slip_method: str = ""
    slip_limit: float | None = None
    slip_place: str = "level"
    response_hours: int | None = None

    def __post_init__(self) -> None:
        if self.ends_on < self.starts_on:
            raise ValueError(f"the term ends {self.ends_on} before it starts {self.starts_on}")
        if not 0.02 <= self.loss_share <= 0.9:
            raise ValueError(f"loss share {self.loss_share:g}: allowed 0.02 to 0.9")
        if not 0.5 <= self.confidence <= 0.99:
            raise ValueError(f"confidence {self.confidence:g}: allowed 0.5 to 0.99")
        if self.reference_gu is not None and not 1 <= self.reference_gu <= 200:
            raise ValueError(f"reference {self.reference_gu:g} GU: allowed 1 to 200")


def promised_gloss(line: PromiseLine, reading_sd_ln: float) -> float | None:
    """The gloss (GU) the zone may not fall below, or None without a reference.

    Parameters
    ----------
    line : an appearance promise.
    reading_sd_ln : one reading's error as sd of ln gloss (about its share of the value).

    The allowed loss is the larger of the promised share and three reading errors.
    Source: design rule; gloss on concrete compares a floor only with itself (trade-facts 0.1).
    """
    if line.reference_gu is None:
        return None
    share = max(line.loss_share, min(0.9, READING_ERRORS_ALLOWED * reading_sd_ln))
    return line.reference_gu * (1.0 - share)
