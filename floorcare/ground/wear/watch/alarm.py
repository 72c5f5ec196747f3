"""What an alarm is, and what the watches look at."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.columns import WearColumns
from floorcare.ground.wear.estimate import Fit
from floorcare.ground.wear.model import Floats, Whole
from floorcare.ground.wear.prior import Prior
from floorcare.ground.wear.watch.later import Expected, Later
from floorcare.ground.wear.watch.watches import Apart, hold_against

LOOKED_BACK_MONTHS = (3, 6, 12)
"""A change is looked for since the first of the month so many months ago. Assumption."""


class AlarmKind(StrEnum):
    """What may have changed."""

    TRAFFIC = "traffic"
    INSTRUMENT = "instrument"
    TREATMENT = "treatment"


@dataclass(frozen=True, slots=True, kw_only=True)
class Alarm:
    """One thing a person should look at.

    zones : SITE/ZONE, those it shows in.
    instrument, against : the meter and the others read meanwhile, with kind instrument.
    work, done_by : the treatment that did not hold and who did it, with kind treatment.
    since : the day from which it shows.
    expected, seen : at a typical reading since then, in `unit`.
    errors : how far apart the two lie over all those readings, in standard errors;
        None for counts.
    strength : what the limit is held against: log odds of a change, errors of an instrument, or
        how many times the counts are.
    says, asks, mend : what shows, the question, and what to do, one sentence each.
    """

    kind: AlarmKind
    zones: tuple[str, ...]
    since: date
    expected: float
    seen: float
    errors: float | None
    strength: float
    unit: str = "GU"
    instrument: str = ""
    against: tuple[str, ...] = ()
    work: str = ""
    done_by: str = ""
    says: str = ""
    asks: str = ""
    mend: str = ""

    def __str__(self) -> str:
        return f"{self.says} {self.asks} {self.mend}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How strong the evidence must be before an alarm rings.

    zone : log odds that a zone's traffic changed or its routine burnish fails.
    treatment : log odds that a treatment did nothing.
    instrument : standard errors.

    Assumption: set on invented fleets so that false alarms stay as rare as docs/wear.md says.
    """

    zone: float = 4.5
    treatment: float = 2.0
    instrument: float = 3.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Watched:
    """The zones of one surface, as the watches look at them.

    fit : its columns' last day is today.
    zones : (Z,), SITE/ZONE.
    instrument : (R,), code of the meter of each of the columns' readings, "" where not known.
    works : the work of each of the columns' treatments.
    today : date of the columns' last day.
    done_by : who did the treatment of a zone on a day, as (zone index, day index).
    prior : belief about the rates, one value a zone; None for the surface's own.
    """

    fit: Fit
    zones: tuple[str, ...]
    instrument: tuple[str, ...]
    works: tuple[Work, ...]
    today: date
    done_by: Mapping[tuple[int, int], str] = field(default_factory=dict)
    prior: Prior | None = None

    @property
    def columns(self) -> WearColumns:
        """What the fit was made of."""
        return self.fit.columns

    def day_of(self, on: date) -> int:
        """The day index of a date, below 0 before the columns' first day."""
        return self.columns.days - 1 - (self.today - on).days

    def date_of(self, day: int) -> date:
        """The date of a day index."""
        return self.today - timedelta(days=self.columns.days - 1 - day)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Looked:
    """Every zone's readings since the days asked about, and what they should have been.

    of : whose zones.
    later : rows, a zone and a day asked about each; since : (N,), place among those days.
    expected : if nothing changed; changed : under each change tried.
    """

    of: Watched
    later: Later
    since: Whole
    expected: Expected
    changed: tuple[Expected, ...]

    def apart(self, corrected: Floats) -> Apart:
        """The readings, less what instruments read off (N, J), less what was expected.

        Assumption: as `hold_against`.
        """
        fit = self.of.fit
        return hold_against(self.of.columns, fit.law, self.later, self.expected, corrected)


def days_asked_about(today: date) -> tuple[date, ...]:
    """First days of months, 3, 6 and 12 months ago.

    Assumption: fixed to months, so that a look tomorrow asks the same question as today's.
    """
    months = [today.year * 12 + today.month - 1 - ago for ago in LOOKED_BACK_MONTHS]
    return tuple(date(month // 12, month % 12 + 1, 1) for month in months)
