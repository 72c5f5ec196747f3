"""What a week weighs: drives and overtime in money, and what it is worth that a visit is done."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from types import MappingProxyType

from floorcare.ground.trade.equipment import Rate, RateKind
from floorcare.ground.trade.visit import Visit

HUNDREDTHS = 100
"""A route's costs are whole hundredths of the branch's currency."""
USUAL_RATES = MappingProxyType(
    {
        RateKind.LABOUR_HOUR: Decimal(30),
        RateKind.OVERTIME_HOUR: Decimal(45),
        RateKind.TRAVEL_KM: Decimal("0.40"),
    }
)
"""What is taken where the branch entered no rate, in its own currency. Assumption."""
OUT_COST = 1_500
"""Getting a crew and its van out at all, in hundredths. Assumption: a visit more in a van that is
out anyway is worth a detour of some 20 minutes."""
PLACED = 500_000
"""What it is worth that a proposed visit of the week is done. Assumption: more than any detour or
overtime."""
URGENT = 500_000
"""And on top where its promise is expected to break by the week's end; it fades out over four
weeks. Assumption."""
FADES_DAYS = 28
"""So many days after the week the urgency of a visit has faded out. Assumption."""
FIRM = 10_000_000
"""What it is worth that a held, asked or agreed visit is done: ten proposed ones. Assumption."""
LATE_DAY = 60_000
"""Each night past the one by which its promise is expected to hold. Assumption."""
EARLY_DAY = 1_000
"""Each night before the one the plan chose: work done early comes round early. Assumption."""
OTHER_NIGHT = 2_000
"""Each night away from the one the year's plan has. Assumption: worth half an hour of a crew."""
NEW_CREW = 1_500
"""Another crew than was there last. Assumption."""
MOVED_NIGHT = 150_000
"""A night that was given out already, in a week planned again. Assumption."""
MOVED_CREW = 60_000
"""A crew that was told already, in a week planned again. Assumption."""
LEFT_OUT = 500_000
"""A visit that was given out already and now has no crew. Assumption: as much as a visit more."""
OTHER_HOUR = 5_000
"""Another hour than an agreed visit's calendar shows. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekPrices:
    """What moving people costs at a branch, in hundredths of its currency.

    minute : of one person; over_minute : of one person beyond the shift; km : of a van.
    """

    minute: float
    over_minute: float
    km: float

    def drive(self, minutes: int, km: float | None, people: int) -> int:
        """What a drive costs, people's time and the van's road, in whole hundredths."""
        return round(minutes * people * self.minute + (km or 0.0) * self.km)

    def overtime(self, people: int) -> int:
        """What a minute beyond the shift costs with all the crew, at least 1."""
        return max(1, round(people * self.over_minute))


def week_prices(rates: Iterable[Rate], branch: str, on: date) -> WeekPrices:
    """The branch's rates on a day.

    Assumption: a branch that entered overtime and no hour pays one and a half times the hour.
    """
    mine = {
        rate.kind: rate.amount
        for rate in sorted(rates, key=lambda r: r.from_on)
        if rate.branch == branch
        and not rate.what
        and rate.from_on <= on
        and (rate.to_on is None or on <= rate.to_on)
    }
    hour = mine.get(RateKind.LABOUR_HOUR, USUAL_RATES[RateKind.LABOUR_HOUR])
    over = mine.get(RateKind.OVERTIME_HOUR, hour * Decimal("1.5"))
    km = mine.get(RateKind.TRAVEL_KM, USUAL_RATES[RateKind.TRAVEL_KM])
    return WeekPrices(
        minute=float(hour) * HUNDREDTHS / 60,
        over_minute=float(over) * HUNDREDTHS / 60,
        km=float(km) * HUNDREDTHS,
    )


def worth_of(visit: Visit, last_on: date) -> int:
    """What it is worth that a visit is done in a week that ends on that day.

    Source: the latest night of its lines is the one after which a promise is expected to break.
    """
    if visit.stands:
        return FIRM
    latest = min(line.due.latest for line in visit.lines)
    left = max(0, (latest - last_on).days)
    return PLACED + round(URGENT * max(0.0, 1.0 - left / FADES_DAYS))


def night_cost(visit: Visit, on: date) -> int:
    """What another night than the plan's costs, and one past the promise.

    Source: the weights above.
    """
    latest = min(line.due.latest for line in visit.lines)
    late = LATE_DAY * max(0, (on - latest).days)
    early = EARLY_DAY * max(0, (visit.night - on).days)
    return late + early + OTHER_NIGHT * abs((on - visit.night).days)
