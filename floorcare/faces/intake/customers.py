"""Contacts, what sites ask for, and calls, out of their rows."""

from collections.abc import Iterator
from datetime import date, datetime
from typing import Any

from floorcare.faces.intake.columns import CUSTOMERS, SITES
from floorcare.faces.intake.columns_contracts import CALLS, CONTACTS, REQUIREMENTS
from floorcare.faces.intake.drafts import SiteDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.ground.trade.people import CallReceived, Contact, SiteRequirement
from floorcare.ground.worktime.night import instant


def take_requirements(lines: Iterator[Line], so_far: Gathering) -> None:
    """Requirements, onto their sites; one that has run out is asked about."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, site = line.cells, so_far.site_of(REQUIREMENTS, line)
        if site is None or not line.fits:
            continue
        key = (site.code, cells["kind"], cells["name"])
        if not so_far.first_of(REQUIREMENTS, line, seen, key, "name", "this requirement"):
            continue
        expires_on = cells["expires_on"]
        if expires_on is not None and expires_on < so_far.today:
            problem = f"the {cells['kind']} has run out, so the site may not be worked"
            mend = "renew it and write the new day"
            so_far.note("asks", REQUIREMENTS, line, "expires_on", problem, mend=mend)
        site.requirements.append(
            SiteRequirement(
                kind=cells["kind"],
                name=cells["name"],
                each_worker=cells["each_worker"],
                expires_on=expires_on,
            )
        )


def take_contacts(lines: Iterator[Line], so_far: Gathering) -> None:
    """Contacts by code."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, code = line.cells, line.cells["contact"]
        good = so_far.names(CONTACTS, line, "customer", so_far.customers, CUSTOMERS)
        good = so_far.names(CONTACTS, line, "site", so_far.sites, SITES) and good
        if code is None:
            continue
        good = so_far.first_of(CONTACTS, line, seen, code, "contact", "the contact") and good
        so_far.contacts.setdefault(code, None)
        if not (good and line.fits):
            continue
        _ask_about_site(line, so_far)
        so_far.contacts[code] = Contact(
            code=code,
            customer=cells["customer"],
            name=cells["name"],
            site=cells["site"],
            role=cells["role"],
            email=cells["email"],
            phone=cells["phone"],
        )


def take_calls(lines: Iterator[Line], so_far: Gathering) -> None:
    """Calls, their times from the site's clock."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, site = line.cells, so_far.site_of(CALLS, line)
        if site is None:
            continue
        zone = so_far.zone_of(CALLS, line) if cells["zone"] else None
        if not line.fits or (cells["zone"] and zone is None):
            continue
        on = cells["received_at"][0]
        if not cells["withdrawn"] and not so_far.is_past(CALLS, line, "received_at", on):
            continue
        if zone is not None and not (
            cells["withdrawn"] or so_far.in_care(CALLS, line, "received_at", on, zone)
        ):
            continue
        if so_far.first_of(CALLS, line, seen, cells["call"], "call", "the call"):
            call = _call(line, site, so_far)
            if call is not None and not so_far.takes_back(line, site.code, cells["zone"], call):
                so_far.calls.append(call)


def _call(line: Line, site: SiteDraft, so_far: Gathering) -> CallReceived | None:
    """The call, None with a note where it was closed before it came or later than today."""
    cells, time_zone = line.cells, site.line.cells["time_zone"]
    if time_zone is None:
        return None
    closed_at: datetime | None = None
    if cells["closed_at"] is not None:
        if not so_far.is_past(CALLS, line, "closed_at", cells["closed_at"][0]):
            return None
        if cells["closed_at"] < cells["received_at"]:
            problem = f"it was closed before it was received at {line.typed('received_at')}"
            mend = "correct one of the two times"
            so_far.note("stops", CALLS, line, "closed_at", problem, mend=mend)
            return None
        closed_at = _utc(cells["closed_at"], time_zone)
    return CallReceived(
        uuid=cells["call"],
        site=site.code,
        zone=cells["zone"],
        kind=cells["kind"],
        received_at=_utc(cells["received_at"], time_zone),
        reported_by=cells["reported_by"],
        text=cells["text"],
        spot_m2=cells["spot_m2"],
        closed_at=closed_at,
    )


def _utc(moment: tuple[date, int], time_zone: str) -> datetime:
    on, minute = moment
    return instant(on, minute, time_zone)


def _ask_about_site(line: Line, so_far: Gathering) -> None:
    """Ask where a contact's site belongs to another customer."""
    site = so_far.sites.get(line.cells["site"])
    theirs = None if site is None else site.line.cells["customer"]
    if theirs is not None and theirs != line.cells["customer"]:
        problem = f"the site belongs to customer {theirs}"
        mend = "correct the customer or the site"
        so_far.note("asks", CONTACTS, line, "site", problem, mend=mend)
