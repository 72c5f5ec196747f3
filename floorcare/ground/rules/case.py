"""One zone as the rules see it."""

from dataclasses import dataclass
from datetime import date, timedelta

from floorcare.findings import Reason
from floorcare.ground.rules.call_clock import OpenCall
from floorcare.ground.rules.cost import STANDARD_COSTS, BranchCosts
from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.promise import Policy, PromiseKind, PromiseLine
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.books.from_books import whole_zone_dates
from floorcare.ground.work.minutes import ASSUMED_MINUTES, PLAIN_MINUTES, line_minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneCase:
    """A zone with the calendar its decisions stand on.

    book : the zone's book; what stands for tonight is among its treatments done.
    area : the name contract and customer use.
    today, last_on : the plan's day and the end of its horizon, or of the zone's care before it.
    ends_on : last day of its care or of its site's service, None while both go on.
    nights : every night its site is open to us, rising, all after today; () where not known.
    calls : calls on it that are still open, oldest first.
    opportunities : nights on which its site can be decided for, rising, all after today.
    first_open : the first night there is at all, for work that cannot wait.
    standing : lines of visits that stand for tonight or later, as treatments to come.
    fixed : (work, night) laid on the walk besides: set rhythms and pinned dues.
    costs : what work costs the branch, and which contracts pay by the visit.
    """

    site: str
    book: ZoneBook
    area: str
    surface: Surface
    today: date
    last_on: date
    opportunities: tuple[date, ...]
    first_open: date
    standing: tuple[TreatmentDone, ...] = ()
    fixed: tuple[tuple[Work, date], ...] = ()
    ends_on: date | None = None
    nights: tuple[date, ...] = ()
    calls: tuple[OpenCall, ...] = ()
    costs: BranchCosts = STANDARD_COSTS

    @property
    def key(self) -> tuple[str, str]:
        """(site code, zone code)."""
        return self.site, self.book.zone.code

    @property
    def done_or_standing(self) -> tuple[TreatmentDone, ...]:
        """What was done and what stands to be done, parts of a zone included."""
        ahead = (t for t in self.standing if t.done_on > self.today)
        return (*self.book.done, *ahead)

    def stands_on(self, work: Work) -> tuple[date, ...]:
        """Nights from tonight on by which visits that stand will have done a work whole."""
        dates = whole_zone_dates(self.done_or_standing, work)
        return tuple(on for on in dates if on >= self.today)

    @property
    def laid(self) -> tuple[tuple[Work, date], ...]:
        """(work, night) after today of all that happens whatever the walk decides."""
        works = sorted({treatment.work for treatment in self.standing})
        whole = [(w, on) for w in works for on in self.stands_on(w) if on > self.today]
        return (*whole, *self.fixed)

    @property
    def appearance(self) -> PromiseLine | None:
        """The appearance promise in force today."""
        return self.book.promise_on(self.today, PromiseKind.APPEARANCE)

    @property
    def by_wear(self) -> bool:
        """Whether its contract lets measured wear decide."""
        line = self.appearance
        return (
            line is not None
            and line.policy is not Policy.AS_AGREED
            and line.reference_gu is not None
        )

    @property
    def cheapest_refused(self) -> bool:
        """Whether its contract asks for the policy cheapest, and pays by the visit."""
        line = self.appearance
        return (
            line is not None
            and line.policy is Policy.CHEAPEST
            and self.costs.pays_by_visit(line.contract, self.site)
        )

    @property
    def cheapest(self) -> bool:
        """Whether its works are chosen at least cost."""
        line = self.appearance
        asked = line is not None and line.policy is Policy.CHEAPEST
        return asked and not self.cheapest_refused

    @property
    def first_night(self) -> date:
        """The first opportunity, tomorrow where the site has none."""
        return self.opportunities[0] if self.opportunities else self.today + timedelta(days=1)

    def due(
        self,
        work: Work,
        *,
        earliest: date,
        target: date,
        latest: date,
        reason: Reason,
        typed_minutes: int | None = None,
        share: float = 1.0,
        area_m2: float | None = None,
    ) -> Due:
        """A due of this zone, its window kept after today and its minutes worked out.

        Parameters
        ----------
        typed_minutes : person-minutes that outrank the rates.
        share : share of the zone to be treated, 0..1.
        area_m2 : area to be treated where it is no share of the zone; it outranks the share.
        """
        soonest = self.today + timedelta(days=1)
        target = max(target, soonest)
        if self.ends_on is not None:
            latest = min(latest, self.ends_on)
        span = self.book.zone.span_on(min(target, self.last_on))
        if area_m2 is None:
            area_m2 = span.area_m2 if span else None
            if area_m2 is not None and share < 1.0:
                area_m2 = round(area_m2 * share, 1)
        rung = self.surface.rung(work)
        if typed_minutes is not None:
            minutes = typed_minutes
        elif rung is not None:
            minutes = line_minutes(rung, area_m2).minutes
        else:
            minutes = PLAIN_MINUTES.get(work, ASSUMED_MINUTES)
        return Due(
            site=self.site,
            zone=self.book.zone.code,
            work=work,
            earliest=min(target, max(earliest, soonest)),
            target=target,
            latest=max(target, latest),
            minutes=max(1, minutes),
            area_m2=area_m2,
            needs=rung.needs if rung is not None else frozenset(),
            reason=reason,
        )
