"""The portfolio out of everything that was read, each list in the order the store keeps it."""

from datetime import date

from floorcare.faces.intake.crews import crew_of_draft, worker_of_draft
from floorcare.faces.intake.drafts import ContractDraft, MeterDraft, SiteDraft, ZoneDraft
from floorcare.faces.intake.equipment import machine_of_draft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.places import site_of_draft
from floorcare.faces.intake.zones import zone_of_draft
from floorcare.ground.trade.book import (
    Portfolio,
    SiteBook,
    TreatmentDone,
    Withdrawable,
    ZoneBook,
)
from floorcare.ground.trade.contract import Contract, Term
from floorcare.ground.trade.equipment import Instrument
from floorcare.ground.trade.people import CallReceived
from floorcare.ground.trade.reading import Reading
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.zone import Station
from floorcare.ground.worktime.shut import ShutDay


def portfolio_of(so_far: Gathering) -> Portfolio:
    """The portfolio of rows that all fit, those taken back among them: they are kept, withdrawn."""
    for site, zone, record in so_far.taken_back:
        _lay_back(so_far, site, zone, record)
    return Portfolio(
        customers=tuple(c for _, c in sorted(so_far.customers.items()) if c),
        branches=tuple(b for _, b in sorted(so_far.branches.items()) if b),
        books=tuple(_site_book(site, so_far.today) for _, site in sorted(so_far.sites.items())),
        contacts=tuple(c for _, c in sorted(so_far.contacts.items()) if c),
        people=tuple(p for _, p in sorted(so_far.people.items()) if p),
        workers=tuple(worker_of_draft(each) for _, each in sorted(so_far.workers.items())),
        crews=tuple(crew_of_draft(each) for _, each in sorted(so_far.crews.items())),
        machines=tuple(machine_of_draft(each) for _, each in sorted(so_far.machines.items())),
        instruments=tuple(_instrument(each) for _, each in sorted(so_far.meters.items())),
        bridges=tuple(
            sorted((b for _, b in so_far.bridges), key=lambda b: (b.first, b.second, b.on))
        ),
        legs=tuple(
            sorted((g for _, g in so_far.legs), key=lambda g: (g.branch, g.leaves, g.reaches))
        ),
        stock=tuple(sorted(so_far.stock, key=lambda s: (s.branch, s.material, s.on, s.move))),
        supplies=tuple(sorted(so_far.supplies, key=lambda s: (s.branch, s.material))),
        rates=tuple(sorted(so_far.rates, key=lambda r: (r.branch, r.kind, r.what, r.from_on))),
        contracts=tuple(_contract(each) for _, each in sorted(so_far.contracts.items())),
        calls=tuple(sorted(so_far.calls, key=lambda c: (c.received_at, c.uuid))),
        withdrawn=tuple(sorted(so_far.withdrawn, key=lambda w: (w.kind, w.site, w.zone, w.key))),
    )


def _lay_back(so_far: Gathering, site: str, zone: str, record: Withdrawable) -> None:
    """Put a row taken back where it was, so that a new database keeps it too."""
    if isinstance(record, CallReceived):
        so_far.calls.append(record)
        return
    draft = so_far.sites[site]
    if isinstance(record, ShutDay):
        draft.shut_days.append((0, record))
        return
    of_zone = draft.zones[zone]
    if isinstance(record, Reading):
        of_zone.readings.append(record)
        if record.station:
            of_zone.stations.setdefault(record.station, Station(code=record.station))
    elif isinstance(record, TreatmentDone):
        of_zone.done.append(record)
    elif isinstance(record, TrafficRow):
        of_zone.traffic.append(record)
    elif isinstance(record, Routine):
        of_zone.routines.append(record)
    else:
        of_zone.promises.append((0, record))


def _site_book(draft: SiteDraft, today: date) -> SiteBook:
    return SiteBook(
        site=site_of_draft(draft),
        areas=tuple(area for _, area in sorted(draft.areas.items())),
        zones=tuple(_zone_book(zone, today) for _, zone in sorted(draft.zones.items())),
        requirements=tuple(sorted(draft.requirements, key=lambda r: (r.kind, r.name))),
        seasons=tuple(sorted(draft.seasons, key=lambda season: season.name)),
    )


def _zone_book(draft: ZoneDraft, today: date) -> ZoneBook:
    """A zone with all that was recorded on it, each list in order of its dates."""
    return ZoneBook(
        zone=zone_of_draft(draft, draft.first_recorded_on or today),
        stations=tuple(station for _, station in sorted(draft.stations.items())),
        readings=tuple(
            sorted(
                draft.readings,
                key=lambda r: (r.taken_on, r.taken_minute, r.station, r.measure, r.geometry_deg),
            )
        ),
        done=tuple(sorted(draft.done, key=lambda d: (d.done_on, d.work))),
        traffic=tuple(sorted(draft.traffic, key=lambda t: (t.from_on, t.kind))),
        routines=tuple(sorted(draft.routines, key=lambda r: (r.starts_on, r.work, r.rule))),
        promises=tuple(
            line for _, line in sorted(draft.promises, key=lambda p: (p[1].starts_on, p[1].kind))
        ),
        make_ups=tuple(sorted(draft.make_ups, key=lambda m: m.from_on)),
    )


def _instrument(draft: MeterDraft) -> Instrument:
    cells = draft.line.cells
    return Instrument(
        code=cells["instrument"],
        name=cells["name"],
        measure=cells["measure"],
        serial=cells["serial"],
        calibrations=tuple(sorted(draft.calibrations, key=lambda c: c.done_on)),
    )


def _contract(draft: ContractDraft) -> Contract:
    """A contract, its terms in order of start."""
    cells = draft.line.cells
    return Contract(
        code=cells["contract"],
        customer=cells["customer"],
        name=cells["name"],
        currency=cells["currency"],
        terms=tuple(
            Term(
                starts_on=starts_on,
                ends_on=term.line.cells["ends_on"],
                our_notice_days=term.line.cells["our_notice_days"],
                their_notice_days=term.line.cells["their_notice_days"],
                renewal=term.line.cells["renewal"],
                cap_on=term.line.cells["cap_on"],
                fees=tuple(sorted(term.fees, key=lambda f: (f.kind, f.site, f.work))),
            )
            for starts_on, term in sorted(draft.terms.items())
        ),
        exclusions=tuple(
            sorted(draft.exclusions, key=lambda e: (e.from_on, e.site, e.zone, e.cause))
        ),
    )
