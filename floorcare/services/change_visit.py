"""Change one visit by hand: move, hold, release, ask, agree, refuse, cancel; checked and told."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from floorcare.errors import NotAllowed
from floorcare.findings import Finding
from floorcare.ground.schedule import manual
from floorcare.ground.schedule.manual import ManualChange
from floorcare.ground.schedule.night_checks import NightGround, night_ground
from floorcare.ground.trade.answer import Said
from floorcare.ground.trade.people import Contact
from floorcare.ground.trade.site import Site
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.visit import Visit
from floorcare.ground.worktime.night import format_minute
from floorcare.store.open import Store
from floorcare.store.visit_edits import VisitEdit

Decide = Callable[[NightGround, Visit], ManualChange]


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitAsked:
    """Which visit is to be changed, on whose word, and who enters it.

    words : site, night and perhaps start; or the beginning of its UUID.
    version : the version that was seen; None where nobody looked before.
    sure : what is only unwise is done all the same.
    """

    words: tuple[str, ...]
    said: Said
    who: str
    today: date
    now: datetime
    version: int | None = None
    sure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitChanged:
    """What became of the change, and how the visit stands now.

    written : False where it is forbidden, or unwise and nobody said they were sure.
    stands : no plan will move it.
    by : a contact's code, or the name as it was typed.
    refused, offered : nights.
    undone : of a visit called off, what is left to the next plan.
    """

    act: str
    written: bool
    visit: str
    site: str
    night_before: date
    night: date
    starts: str
    minutes: int
    state: str
    commitment: str
    agreement: str
    stands: bool
    sequence: int
    version: int
    by: str
    refused: tuple[date, ...] = ()
    offered: tuple[date, ...] = ()
    undone: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()


def move_visit(
    store: Store,
    surfaces: Mapping[str, Surface],
    asked: VisitAsked,
    *,
    to: date,
    starts_minute: int | None = None,
    only_proposed: bool = False,
) -> VisitChanged:
    """Move a visit to another night or hour, and hold it there.

    Parameters
    ----------
    starts_minute : minute of the site's clock; None for as early as the night allows.
    only_proposed : do not hold it.

    Raises
    ------
    NotKnown : there is no such visit. Clash : somebody changed it meanwhile.
    """

    def decide(ground: NightGround, visit: Visit) -> ManualChange:
        kept = only_proposed
        return manual.moved(ground, visit, to, starts_minute, only_proposed=kept, now=asked.now)

    return _changed(store, surfaces, asked, decide, on=to)


def hold_visit(
    store: Store, surfaces: Mapping[str, Surface], asked: VisitAsked, *, hour: bool = False
) -> VisitChanged:
    """Pin a visit to its night, or to its hour, whatever later plans find."""

    def decide(ground: NightGround, visit: Visit) -> ManualChange:
        return manual.held(ground, visit, hour=hour, now=asked.now)

    return _changed(store, surfaces, asked, decide)


def release_visit(store: Store, surfaces: Mapping[str, Surface], asked: VisitAsked) -> VisitChanged:
    """Let plans move a visit again; what the customer said stays said."""

    def decide(ground: NightGround, visit: Visit) -> ManualChange:
        return manual.released(visit, today=ground.year.today, now=asked.now)

    return _changed(store, surfaces, asked, decide)


def ask_visit(store: Store, surfaces: Mapping[str, Surface], asked: VisitAsked) -> VisitChanged:
    """Note that the customer was asked for a visit's night; it stands until they answer."""

    def decide(ground: NightGround, visit: Visit) -> ManualChange:
        return manual.asked(ground, visit, on=asked.said.on, now=asked.now)

    return _changed(store, surfaces, asked, decide)


def agree_visit(store: Store, surfaces: Mapping[str, Surface], asked: VisitAsked) -> VisitChanged:
    """Note that the customer agreed to a visit's night; what speaks against it is told."""

    def decide(ground: NightGround, visit: Visit) -> ManualChange:
        return manual.agreed(ground, visit, now=asked.now)

    return _changed(store, surfaces, replace(asked, sure=True), decide)


def refuse_visit(
    store: Store,
    surfaces: Mapping[str, Surface],
    asked: VisitAsked,
    *,
    instead: Sequence[date] = (),
) -> VisitChanged:
    """Note that the customer refused a visit's night, with the nights they offer instead."""

    def decide(ground: NightGround, visit: Visit) -> ManualChange:
        return manual.refused(ground, visit, instead, on=asked.said.on, now=asked.now)

    return _changed(store, surfaces, replace(asked, sure=True), decide)


def cancel_visit(store: Store, surfaces: Mapping[str, Surface], asked: VisitAsked) -> VisitChanged:
    """Call a visit off; its work goes back to the rules at the next plan."""

    def decide(ground: NightGround, visit: Visit) -> ManualChange:
        return manual.cancelled(ground, visit, now=asked.now)

    return _changed(store, surfaces, asked, decide)


def _changed(
    store: Store,
    surfaces: Mapping[str, Surface],
    asked: VisitAsked,
    decide: Decide,
    *,
    on: date | None = None,
) -> VisitChanged:
    """Look, decide, and write on the version that was looked at."""
    with store.work() as work:
        visit = work.visit_named(asked.words)
        version = work.version_seen(visit, asked.version)
        night = on or visit.night
        sites = {site.code: site for site in work.sites()}
        served = sites[visit.site].branch_on(night) or sites[visit.site].branch_on(visit.night)
        branch = next((b for b in work.branches() if b.code == served), None)
        if branch is None:
            raise NotAllowed(f"no branch serves {visit.site} on {night}; give it one from then on")
        mine = [code for code, site in sites.items() if site.branch_on(night) == served]
        ground = night_ground(
            branch,
            work.books(sorted({*mine, visit.site})),
            work.visits(first=asked.today),
            surfaces,
            on=night,
            today=asked.today,
            machines=work.machines(),
            legs=work.legs(),
        )
        said = replace(asked.said, by=_contact(asked.said.by, work.contacts(), sites[visit.site]))
    change = decide(ground, visit)
    written = not change.forbidden and (asked.sure or not change.unwise)
    if written:
        edit = VisitEdit(
            kind=change.act.value,
            before=change.before,
            after=change.after,
            said=said,
            version=version,
            answers=change.answers,
            reopened=change.reopened,
        )
        with store.work(writes=True) as work:
            version = work.put_visit(edit, who=asked.who, now=asked.now)
            work.commit()
    return _told(change, said, version, written=written)


def _contact(by: str, contacts: Sequence[Contact], site: Site) -> str:
    """The code of the customer's contact of that code or name; else what was typed."""
    typed = by.strip().casefold()
    for contact in contacts:
        mine = contact.customer == site.customer and contact.site in ("", site.code)
        if mine and typed in (contact.code.casefold(), contact.name.casefold()):
            return contact.code
    return by.strip()


def _told(change: ManualChange, said: Said, version: int, *, written: bool) -> VisitChanged:
    visit = change.after if written else change.before
    nights = sorted({answer.night for answer in change.answers})
    return VisitChanged(
        act=change.act.value,
        written=written,
        visit=visit.uuid,
        site=visit.site,
        night_before=change.before.night,
        night=visit.night,
        starts=format_minute(visit.starts_minute),
        minutes=visit.minutes,
        state=visit.state.value,
        commitment=visit.commitment.value,
        agreement=visit.agreement.value,
        stands=visit.stands,
        sequence=visit.sequence,
        version=version,
        by=said.by,
        refused=tuple(n for n in nights if n == visit.night),
        offered=tuple(n for n in nights if n != visit.night),
        undone=change.undone,
        findings=change.findings,
    )
