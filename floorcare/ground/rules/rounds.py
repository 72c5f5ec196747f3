"""Reading rounds: a promised look is read about once a quarter.

Source: dust and instrument rounds once a quarter, INSTA 800-1 as quoted by EVS 914:2020.
"""

from datetime import date, timedelta

from floorcare.findings import Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.reasons import customer_sentence, said, tensed
from floorcare.ground.trade.reading import Measure
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due

ROUND_GAP_DAYS = 91
"""One round a quarter. Source: as above."""
ROUND_EARLY_DAYS, ROUND_LATE_DAYS = 30, 21
"""How far a round may move to be taken along with other work. Assumption."""


def round_dues(case: ZoneCase) -> tuple[Due, ...]:
    """Reading rounds of a zone with a promised look, over the horizon.

    Source: quarterly, see the module.
    Assumption: a round may come 30 days early and 21 late.
    """
    if case.appearance is None:
        return ()
    read_on = [r.taken_on for r in case.book.readings if r.measure is Measure.GLOSS]
    last = max((day for day in read_on if day <= case.last_on), default=None)
    stands = sorted(case.stands_on(Work.READING_ROUND))
    gap, late = timedelta(days=ROUND_GAP_DAYS), timedelta(days=ROUND_LATE_DAYS)
    target = max(last + gap, case.first_night) if last else case.first_night
    dues = []
    while target <= case.last_on:
        # a round that stands by then is this one
        met = next(
            (on for on in stands if (last is None or on > last) and on <= target + late), None
        )
        if met is not None:
            last, target = met, max(met + gap, case.first_night)
            continue
        dues.append(
            case.due(
                Work.READING_ROUND,
                earliest=target - timedelta(days=ROUND_EARLY_DAYS),
                target=target,
                latest=target + timedelta(days=ROUND_LATE_DAYS),
                reason=_reason(case, last),
            )
        )
        last, target = target, target + gap
    return tuple(dues)


def _reason(case: ZoneCase, last: date | None) -> Reason:
    area = case.area
    since = "never read, so its wear cannot be forecast"
    if last is not None:
        since = f"{tensed('read', last, case.today)} {said(last)}"
    return Reason(
        rule="reading round",
        inside=f"Reading round for {area}: {since}; one a quarter.",
        customer=customer_sentence(Work.READING_ROUND, area),
        facts=(("last read on", last.isoformat() if last else None),),
    )
