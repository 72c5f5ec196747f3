"""A week: a branch's visits on crew-nights, as a timetable, crew lists and crew calendars.

The same visits, crews and machines give the same week, and one that was written comes out as it
was. Every answer is gone over by a checker of its own before anybody sees it.
"""

from collections.abc import Mapping

from floorcare.ground.trade.surface import Surface
from floorcare.services.week_ground import WeekAsked, answer_weeks, fit_weeks, read_weeks
from floorcare.services.week_sheet import FittedWeek
from floorcare.store.open import Store


def fit_week(
    store: Store, surfaces: Mapping[str, Surface], cautions: Mapping[str, str], asked: WeekAsked
) -> tuple[FittedWeek, ...]:
    """Every branch's week, or that of the branch asked for; kept where that was asked.

    Raises
    ------
    NotKnown : there is no such branch.
    Clash : a visit changed while the week was made; nothing is written.
    """
    read = read_weeks(store, surfaces, asked)
    fits = fit_weeks(read.weeks, asked)
    return answer_weeks(store, read, list(zip(read.weeks, fits, strict=True)), asked, cautions)
