"""How a site's counted footfall goes over the year, for its zones that nobody counts.

Counts are kept as averages of months and bring no weekday, and access windows say when we may work,
not when the site is open: within a month every day is walked alike.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.traffic import PASS_WEIGHT
from floorcare.ground.wear.model import Whole

LEAST_MONTH_DAYS = 14
"""Counted days that make a month of a zone's year. Assumption."""
COUNTS_LOOKED_BACK_DAYS = 3 * 365
"""Older counts say nothing of a site's year. Assumption."""
MONTHS = 12


def with_site_year(book: SiteBook, today: date) -> SiteBook:
    """The site's book, its year laid into every zone.

    Assumption: as `site_year`.
    """
    by_month = site_year(book.zones, today)
    return replace(book, zones=tuple(replace(zone, by_month=by_month) for zone in book.zones))


def site_year(zones: Sequence[ZoneBook], today: date) -> tuple[float, ...]:
    """The factor of each calendar month on a level's footfall, twelve with a mean of one.

    Parameters
    ----------
    zones : of one site.
    today : later counts are not known.

    Returns
    -------
    Nothing where no zone was counted in every month of the year.

    Assumption: zones nobody counts go through the year as those that are counted, each of them
    weighing the same.
    """
    back = range(COUNTS_LOOKED_BACK_DAYS, -1, -1)
    month = np.array([(today - timedelta(days=day)).month - 1 for day in back], dtype=np.int64)
    years = [year for zone in zones if (year := _zone_year(zone, today, month))]
    return tuple(sum(month) / len(years) for month in zip(*years, strict=True)) if years else ()


def _zone_year(zone: ZoneBook, today: date, month: Whole) -> tuple[float, ...]:
    """Weighted passes of each month by their mean; nothing without a whole year of counts.

    month : (D,), calendar month of each day looked back on, 0 to 11, the last of them today.
    """
    passes = np.full(month.shape, np.nan)
    first = today - timedelta(days=month.size - 1)
    for row in zone.traffic:
        # an average nobody has ended yet is of no month, but what was last counted
        if row.counted and row.to_on is not None and row.to_on <= today:
            days = slice(max(0, (row.from_on - first).days), max(0, (row.to_on - first).days + 1))
            passes[days] = np.nan_to_num(passes[days]) + PASS_WEIGHT[row.kind] * row.per_day
    there = np.isfinite(passes)
    count = np.bincount(month[there], minlength=MONTHS)
    if count.min() < LEAST_MONTH_DAYS:
        return ()
    means = np.bincount(month[there], passes[there], MONTHS) / count
    whole = float(means.mean())
    return tuple((means / whole).tolist()) if whole > 0 else ()
