"""One visit as the crew carries it: what both the branch's lists and each crew's are made of."""

from collections.abc import Mapping, Sequence

from floorcare.errors import NotKnown
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.closings import surface_of, true_closings, visit_closings
from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.ground.trade.visit import Agreement, Commitment, Visit, VisitLine, VisitState
from floorcare.ground.work.cautions import cautions_for
from floorcare.ground.work.minutes import step_minutes
from floorcare.ground.work.quantities import quantities
from floorcare.ground.work.timeline import ZoneClosing, visit_clock_minutes
from floorcare.ground.worktime.night import format_minute, minute_after
from floorcare.services.sheets import (
    ReadingPlace,
    SheetLine,
    SheetQuantity,
    SheetStep,
    VisitSheet,
)

REOPENING = (
    "A zone reopens at the time given, at the earliest: dry underfoot, barriers and signs away, "
    "nothing left that can be slipped on or tripped over."
)

TESTED_REOPENING = (
    "A zone whose slip test fails stays shut behind its barriers; tell the office at once."
)
"""Source: 29 CFR 1910.22(d)(2), guarded until the hazard is corrected."""


def branches_asked(branches: Sequence[Branch], code: str) -> tuple[Branch, ...]:
    """The branch of that code, all of them where it is left out.

    Raises
    ------
    NotKnown : there is no such branch.
    """
    found = tuple(branch for branch in branches if code in ("", branch.code))
    if code and not found:
        known = ", ".join(branch.code for branch in branches)
        raise NotKnown(f'There is no branch "{code}"; there are {known}.')
    return found


def visits_of(
    branch: Branch, books: Sequence[SiteBook], visits: Sequence[Visit]
) -> tuple[Visit, ...]:
    """The visits that are not called off and whose site the branch serves on their own night."""
    sites = {book.site.code: book.site for book in books}
    return tuple(
        visit
        for visit in visits
        if visit.state is not VisitState.CANCELLED
        and sites[visit.site].branch_on(visit.night) == branch.code
    )


def visit_sheet(
    visit: Visit,
    book: SiteBook,
    branch: Branch,
    customers: Mapping[str, str],
    surfaces: Mapping[str, Surface],
    cautions: Mapping[str, str],
) -> VisitSheet:
    """One visit as the crew carries it."""
    site = book.site
    of_zone = {z.zone.code: z for z in book.zones}
    surface = {code: surface_of(z, visit, surfaces) for code, z in of_zone.items()}
    closings = visit_closings(visit, book, surfaces)
    by_zone = {closing.zone: closing for closing in closings}
    # on the night the clocks go back a later step may show an earlier time
    true = true_closings(visit, book, surfaces)
    begins = {(c.zone, s.work): s.starts_minute for c in true for s in reversed(c.steps)}
    in_order = sorted(visit.lines, key=lambda line: (begins[line.zone, line.work], line.zone))
    lines = [
        _sheet_line(line, book, of_zone[line.zone], surface[line.zone], by_zone[line.zone])
        for line in in_order
    ]
    return VisitSheet(
        uuid=visit.uuid,
        site=site.code,
        site_name=site.name,
        customer=customers.get(site.customer, site.customer),
        branch=branch.name,
        night=visit.night,
        starts_minute=visit.starts_minute,
        ends_minute=minute_after(
            visit.night, visit.starts_minute, visit_clock_minutes(true), site.time_zone
        ),
        people=visit.people,
        state=state_said(visit),
        address=site.address,
        stands=visit.stands,
        access_window=_window(book, visit),
        access_note=site.access_note,
        notice=_notice(visit, site.notice_days),
        zones=tuple(lines),
        reading_places=_reading_places(visit, of_zone),
        cautions=_cautions(visit, surface, cautions),
        reopening=f"{REOPENING} {TESTED_REOPENING}" if _tests_slip(visit) else REOPENING,
        units=branch.units,
    )


def _cautions(
    visit: Visit, surface: Mapping[str, Surface], texts: Mapping[str, str]
) -> tuple[str, ...]:
    """Texts of the cautions that apply, in the order of print."""
    rungs = [
        (surface[line.zone], rung)
        for line in visit.lines
        if (rung := surface[line.zone].rung(line.work)) is not None
    ]
    unwritten = any(
        line.work in TREATMENTS and surface[line.zone].rung(line.work) is None
        for line in visit.lines
    )
    codes = cautions_for(
        rungs, people=visit.people, tests_slip=_tests_slip(visit), unwritten=unwritten
    )
    # the documents close every list themselves with the line that codes come first
    return tuple(texts[code] for code in codes if code != "codes_first")


def _notice(visit: Visit, days: int) -> str:
    """What the customer was to be told, and whether there was time for it."""
    planned_on = visit.changed_at.date() if visit.changed_at is not None else visit.night
    if (visit.night - planned_on).days >= days or visit.agreement is Agreement.AGREED:
        return f"The customer is told {days} days ahead."
    return (
        f"The customer is to be told {days} days ahead and this night was planned on "
        f"{said(planned_on)}: ask before anybody sets out."
    )


def _tests_slip(visit: Visit) -> bool:
    return any(line.work is Work.SLIP_TEST for line in visit.lines)


def state_said(visit: Visit) -> str:
    """A visit's state in words, with what may still move and what comes late."""
    words = [visit.state.value]
    if visit.agreement is not Agreement.NOT_NEEDED:
        words.append(visit.agreement.value)
    if visit.commitment is Commitment.WEEK and not visit.stands:
        words.append("may still move")
    latest = min(line.due.latest for line in visit.lines)
    if visit.night > latest:
        words.append(f"late: wanted by {said(latest)}")
    return ", ".join(words)


def _window(book: SiteBook, visit: Visit) -> str:
    windows = [
        w
        for w in book.site.windows
        if w.starts_on(visit.night) and w.starts_minute <= visit.starts_minute
    ]
    return "; ".join(
        f"{format_minute(w.starts_minute)} to {format_minute(w.ends_minute)}, permits "
        f"{', '.join(sorted(w.permits)) or 'quiet dry work'}"
        for w in windows
    )


def _sheet_line(
    line: VisitLine, book: SiteBook, zone: ZoneBook, surface: Surface, closing: ZoneClosing
) -> SheetLine:
    rung = surface.rung(line.work)
    span = zone.zone.span_on(line.due.target)
    mine = [s for s in closing.steps if s.work is line.work]
    steps: tuple[SheetStep, ...] = ()
    products: tuple[SheetQuantity, ...] = ()
    if rung is not None:
        steps = tuple(
            SheetStep(
                name=step.name,
                machine=surface.machines[step.machine].name if step.machine else "",
                tool=surface.tools[step.tool].name if step.tool else "",
                product=surface.materials[step.product].name if step.product else "",
                minutes=step_minutes(step, line.area_m2) if line.area_m2 is not None else 0,
                wait_minutes=step.wait_minutes,
            )
            for step in rung.steps
        )
        products = tuple(
            SheetQuantity(
                product=q.name, litres=q.litres, coats=q.coats, estimate=q.marked_estimate
            )
            for q in quantities(surface, rung, line.area_m2)
        )
    return SheetLine(
        zone=f"{book.site.code}/{line.zone}",
        zone_name=zone.zone.name,
        area_name=book.area_name(zone.zone),
        work=line.work.value,
        area_m2=line.area_m2,
        zone_m2=span.area_m2 if span else None,
        reason_inside=line.due.reason.inside,
        person_minutes=line.minutes,
        steps=steps,
        quantities=products,
        closes_minute=closing.closes_minute,
        starts_minute=mine[0].starts_minute if mine else closing.starts_minute,
        ends_minute=mine[-1].ends_minute if mine else closing.ends_minute,
        reopens_minute=closing.reopens_minute,
    )


def _reading_places(visit: Visit, of_zone: Mapping[str, ZoneBook]) -> tuple[ReadingPlace, ...]:
    places = []
    for line in visit.lines:
        if line.work is Work.READING_ROUND:
            stations = [s.code for s in of_zone[line.zone].stations] or [""]
            places += [ReadingPlace(zone=f"{visit.site}/{line.zone}", station=s) for s in stations]
    return tuple(places)
