"""Machines with their dated places, instruments and the bridges between them, stock and rates."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from math import isfinite

from floorcare.ground.trade.codes import check_currency, check_span


@dataclass(frozen=True, slots=True, kw_only=True)
class MachinePlace:
    """Where a machine stands: at a branch or on a site, from one day to another."""

    branch: str
    site: str
    from_on: date
    to_on: date | None = None

    def __post_init__(self) -> None:
        check_span(self.from_on, self.to_on)
        if bool(self.branch) == bool(self.site):
            raise ValueError("a machine stands at a branch or on a site, one of the two")

    def covers(self, day: date) -> bool:
        """Whether it stands there on that day."""
        return self.from_on <= day and (self.to_on is None or day <= self.to_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnedMachine:
    """One machine of ours; `kind` is a code of a surface's machine list."""

    code: str
    kind: str
    name: str
    places: tuple[MachinePlace, ...] = ()
    fuel: str = ""
    out_of_order: tuple[tuple[date, date], ...] = ()

    def __post_init__(self) -> None:
        for first, last in self.out_of_order:
            check_span(first, last)

    def place_on(self, day: date) -> MachinePlace | None:
        """Where it stands on that day."""
        return next((p for p in self.places if p.covers(day)), None)

    def works_on(self, day: date) -> bool:
        """Whether it is in order and stands somewhere on that day."""
        broken = any(first <= day <= last for first, last in self.out_of_order)
        return not broken and self.place_on(day) is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """One calibration of an instrument and the day it runs out."""

    done_on: date
    valid_to: date

    def __post_init__(self) -> None:
        if self.valid_to < self.done_on:
            raise ValueError(f"calibration valid to {self.valid_to}, before {self.done_on}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """A meter: `measure` is what it reads, as readings name it."""

    code: str
    name: str
    measure: str
    serial: str = ""
    calibrations: tuple[Calibration, ...] = ()

    def calibrated_on(self, day: date) -> bool:
        """Whether a calibration covers that day."""
        return any(c.done_on <= day <= c.valid_to for c in self.calibrations)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterBridge:
    """Two meters read at the same stations on one day: `offset_gu` is second minus first."""

    first: str
    second: str
    on: date
    offset_gu: float
    stations: int

    def __post_init__(self) -> None:
        if self.first == self.second:
            raise ValueError("a bridge needs two meters")
        if self.stations < 1:
            raise ValueError("a bridge needs at least one station")
        if not isfinite(self.offset_gu):
            raise ValueError(f"a bridge of {self.offset_gu} GU: allowed a number")


class StockMove(StrEnum):
    """What a stock entry records."""

    COUNTED = "counted"
    RECEIVED = "received"
    USED = "used"


@dataclass(frozen=True, slots=True, kw_only=True)
class StockEntry:
    """A count, a delivery or a use of a material at a branch; litres, or pieces of a tool."""

    branch: str
    material: str
    on: date
    move: StockMove
    quantity: float
    unit: str = "L"

    def __post_init__(self) -> None:
        if self.quantity < 0:
            raise ValueError(f"quantity {self.quantity:g}: allowed 0 or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """How a branch buys a material, or a pad or diamond.

    pack : what one pack holds, in `unit`: litres, or pieces of a tool.
    lead_days : days from the order to the shelf.
    reserve : what is to stay on the shelf whatever the plan uses.
    """

    branch: str
    material: str
    pack: float
    unit: str = "L"
    lead_days: int = 0
    reserve: float = 0.0

    def __post_init__(self) -> None:
        if not self.pack > 0:
            raise ValueError(f"pack of {self.pack:g}: allowed above 0")
        if self.lead_days < 0:
            raise ValueError(f"{self.lead_days} days of lead: allowed 0 or more")
        if not self.reserve >= 0:
            raise ValueError(f"reserve {self.reserve:g}: allowed 0 or more")


def stock_on(entries: tuple[StockEntry, ...], material: str, day: date) -> float:
    """What a branch holds of a material at the end of a day: the last count and what came since.

    Parameters
    ----------
    entries : of one branch, any order; on one day a count comes last.
    """
    mine = sorted(
        (e for e in entries if e.material == material and e.on <= day),
        key=lambda e: (e.on, e.move is StockMove.COUNTED),
    )
    held = 0.0
    for entry in mine:
        if entry.move is StockMove.COUNTED:
            held = entry.quantity
        else:
            held += entry.quantity if entry.move is StockMove.RECEIVED else -entry.quantity
    return held


class RateKind(StrEnum):
    """What a rate prices."""

    LABOUR_HOUR = "labour hour"
    NIGHT_SUPPLEMENT = "night supplement"
    OVERTIME_HOUR = "overtime hour"
    TRAVEL_KM = "travel km"
    MACHINE_HOUR = "machine hour"
    MATERIAL_LITRE = "material litre"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """A price of ours at a branch from one day to another, in the branch's currency (ISO 4217).

    what : the machine kind or material it belongs to, "" for labour and travel.
    """

    branch: str
    kind: RateKind
    amount: Decimal
    currency: str
    from_on: date
    to_on: date | None = None
    what: str = ""

    def __post_init__(self) -> None:
        if self.amount < 0:
            raise ValueError(f"rate {self.amount}: allowed 0 or more")
        check_currency(self.currency)
        check_span(self.from_on, self.to_on)
