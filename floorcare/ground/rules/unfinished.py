"""Work begun and not finished: the rest of the zone follows at once."""

from datetime import timedelta

from floorcare.findings import Reason
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.reasons import WORK_NAMED, customer_sentence, said
from floorcare.ground.trade.treatment import LOCAL_REPAIRS, TREATMENTS
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.books.from_books import share_begun


def unfinished_dues(case: ZoneCase) -> tuple[Due, ...]:
    """The rest of every treatment that was begun on part of the zone, from tomorrow on.

    Source: a line that treated less than nine tenths of a zone resets nothing (design rule).
    Assumption: parts within 14 days belong together.
    """
    tomorrow = case.today + timedelta(days=1)
    dues = []
    for work in TREATMENTS:
        share = share_begun(case.done_or_standing, work, case.today)
        if share <= 0 or work in LOCAL_REPAIRS:
            continue
        begun = min(
            d.done_on
            for d in case.done_or_standing
            if d.work is work and d.share < 1 and (case.today - d.done_on).days <= 14
        )
        dues.append(
            case.due(
                work,
                earliest=tomorrow,
                target=tomorrow,
                latest=tomorrow,
                share=1.0 - share,
                reason=Reason(
                    rule="work begun",
                    inside=f"{WORK_NAMED[work]} for {case.area}: begun on {said(begun)}, "
                    f"{share:.0%} of the zone is covered; the rest follows.",
                    customer=customer_sentence(work, case.area),
                    facts=(("begun on", begun.isoformat()), ("share covered", round(share, 2))),
                ),
            )
        )
    return tuple(dues)
