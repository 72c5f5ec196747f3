"""What customers said of a site's nights, as the planning of that site needs it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from floorcare.ground.rules.fixed_days import stands_fast
from floorcare.ground.trade.answer import NightWord
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit, VisitLine

PRESSING_RULES = frozenset(
    {"slip guard", "work begun", "evidence outranks forecast", "call response"}
)
"""Rules whose work does not wait for a customer's notice days. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteAnswers:
    """Nights a customer refused or offered, and how long before a night they want to be told.

    refused : (night, zone); no work on that zone is offered that night again.
    offered : (night, zone, work) of counter-nights.
    notice_from : first night with notice enough; before it only what presses is newly proposed.
    told : (night, zone) proposed already, which may stay there without fresh notice.
    """

    refused: frozenset[tuple[date, str]] = frozenset()
    offered: frozenset[tuple[date, str, Work]] = frozenset()
    notice_from: date = date.min
    told: frozenset[tuple[date, str]] = frozenset()

    def takes(self, on: date, lines: Iterable[VisitLine]) -> bool:
        """Whether these lines may be proposed for a night."""
        asked = tuple(lines)
        if any((on, line.zone) in self.refused for line in asked):
            return False
        if any(stands_fast(line.due) and on != line.due.target for line in asked):
            return False  # no substitutions
        return on >= self.notice_from or all(
            line.due.reason.rule in PRESSING_RULES or (on, line.zone) in self.told for line in asked
        )

    def wishes(self, on: date, line: VisitLine) -> bool:
        """Whether the customer offered the night for this work."""
        return (on, line.zone, line.work) in self.offered


NOTHING_SAID = SiteAnswers()
"""No night was refused or offered, and no notice is kept."""


def site_answers(
    book: SiteBook, visits: Iterable[Visit], *, today: date, keep_notice: bool
) -> SiteAnswers:
    """What was said of a site's nights.

    Parameters
    ----------
    visits : standing visits, of any site.
    keep_notice : whether the site's notice days bind what is newly proposed.
    """
    told: frozenset[tuple[date, str]] = frozenset()
    if keep_notice:
        told = frozenset(
            (visit.night, line.zone)
            for visit in visits
            if visit.site == book.site.code
            for line in visit.lines
        )
    days = timedelta(days=book.site.notice_days)
    return SiteAnswers(
        refused=frozenset((a.night, a.zone) for a in book.answers if a.word is NightWord.REFUSED),
        offered=frozenset(
            (a.night, a.zone, a.work) for a in book.answers if a.word is NightWord.OFFERED
        ),
        notice_from=today + days if keep_notice else date.min,
        told=told,
    )
