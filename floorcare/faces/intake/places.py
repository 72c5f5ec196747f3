"""Branches, customers, sites, access windows, shut days and areas out of their rows."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.columns import (
    ACCESS_WINDOWS,
    AREAS,
    BRANCHES,
    CUSTOMERS,
    SHUT_DAYS,
    SITES,
)
from floorcare.faces.intake.coordinates import beyond_the_pole
from floorcare.faces.intake.drafts import SiteDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.notes import nearest
from floorcare.faces.intake.readers import mend_told
from floorcare.ground.trade.site import Area, Branch, BranchSpan, Customer, Site
from floorcare.ground.worktime.holidays import country_problem
from floorcare.ground.worktime.night import DAY_MINUTES
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import EVERY_DAY, AccessWindow

SHORTEST_WINDOW_MINUTES = 30
"""Assumption: shorter than any work with its set-up."""
SHUT_YEAR_DAYS = 365
SINCE_EVER = date(1900, 1, 1)
NIGHTLY = AccessWindow(
    weekdays=EVERY_DAY,
    starts_minute=22 * 60,
    ends_minute=6 * 60,
    permits=frozenset({"loud", "wet", "dust"}),
)
"""Access taken where none is told. Assumption."""
NIGHTLY_WORDS = "every night 22:00 to 06:00 for loud, wet and dust work"


def take_branches(lines: Iterator[Line], so_far: Gathering) -> None:
    """Branches by code; a row with a problem keeps its code known."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells = line.cells
        code = cells["branch"]
        if code is None:
            continue
        fits = so_far.first_of(BRANCHES, line, seen, code, "branch", "the branch") and line.fits
        so_far.branches.setdefault(code, None)
        so_far.branch_lines.setdefault(code, line)
        if not (_placed(BRANCHES, line, so_far) and fits):
            continue
        so_far.branches[code] = Branch(
            code=code,
            name=cells["name"],
            time_zone=cells["time_zone"],
            country=cells["country"],
            region=cells["region"],
            latitude=cells["latitude"],
            longitude=cells["longitude"],
            crews=cells["crews"],
            crew_size=cells["crew_size"],
            shift_minutes=cells["shift_minutes"],
            weekdays=cells["nights"],
            reserve_share=cells["reserve_share"],
            units=cells["units"],
            currency=cells["currency"],
        )


def take_customers(lines: Iterator[Line], so_far: Gathering) -> None:
    """Customers by code."""
    seen: dict[Any, int] = {}
    for line in lines:
        code = line.cells["customer"]
        if code is None:
            continue
        so_far.customers.setdefault(code, None)
        if so_far.first_of(CUSTOMERS, line, seen, code, "customer", "the customer") and line.fits:
            so_far.customers[code] = Customer(code=code, name=line.cells["name"])


def take_sites(lines: Iterator[Line], so_far: Gathering) -> None:
    """Sites by code, with what they refer to."""
    seen: dict[Any, int] = {}
    for line in lines:
        code = line.cells["site"]
        if code is None:
            continue
        if not so_far.first_of(SITES, line, seen, code, "site", "the site"):
            continue
        so_far.sites[code] = SiteDraft(code, line)
        _placed(SITES, line, so_far)
        so_far.names(SITES, line, "branch", so_far.branches, BRANCHES)
        _owned(line, so_far)


def take_access_windows(lines: Iterator[Line], so_far: Gathering) -> None:
    """Access windows, onto their sites."""
    for line in lines:
        site = so_far.site_of(ACCESS_WINDOWS, line)
        if site is not None:
            site.windows_named = True
        if not (so_far.in_order(ACCESS_WINDOWS, line) and line.fits) or site is None:
            continue
        cells = line.cells
        window = AccessWindow(
            weekdays=cells["nights"],
            starts_minute=cells["from"] % DAY_MINUTES,
            ends_minute=cells["to"],
            permits=cells["permits"],
            from_on=cells["from_on"],
            to_on=cells["to_on"],
        )
        if window.minutes < SHORTEST_WINDOW_MINUTES:
            so_far.note(
                "stops",
                ACCESS_WINDOWS,
                line,
                "to",
                f"the window of {window.minutes} minutes is shorter than any work",
                allowed=f"{SHORTEST_WINDOW_MINUTES} minutes or more",
                mend="correct from or to, or leave the row out",
            )
        else:
            site.windows.append(window)


def take_shut_days(lines: Iterator[Line], so_far: Gathering) -> None:
    """Shut days, onto their sites."""
    seen: dict[Any, int] = {}
    for line in lines:
        site = so_far.site_of(SHUT_DAYS, line)
        if not (so_far.in_order(SHUT_DAYS, line) and line.fits) or site is None:
            continue
        first, last = line.cells["from_on"], line.cells["to_on"] or line.cells["from_on"]
        shut = ShutDay(from_on=first, to_on=last, why=line.cells["why"])
        what = "the shut day of this site"
        if not so_far.first_of(SHUT_DAYS, line, seen, (site.code, first), "from_on", what):
            continue
        if not so_far.takes_back(line, site.code, "", shut):
            site.shut_days.append((line.row, shut))
    for site in so_far.sites.values():
        _ask_about_shut_year(site, so_far)


def take_areas(lines: Iterator[Line], so_far: Gathering) -> None:
    """Areas, onto their sites."""
    seen: dict[Any, int] = {}
    for line in lines:
        site, code = so_far.site_of(AREAS, line), line.cells["area"]
        if site is None or code is None:
            continue
        first = so_far.first_of(AREAS, line, seen, (site.code, code), "area", "the area")
        if first and line.fits:
            site.areas[code] = Area(code=code, name=line.cells["name"])


def site_of_draft(draft: SiteDraft) -> Site:
    """The site's record; one without access windows is taken as open at night."""
    cells = draft.line.cells
    return Site(
        code=draft.code,
        customer=cells["customer"],
        name=cells["name"],
        time_zone=cells["time_zone"],
        branches=(
            BranchSpan(branch=cells["branch"], from_on=cells["branch_from_on"] or SINCE_EVER),
        ),
        address=cells["address"],
        country=cells["country"],
        region=cells["region"],
        latitude=cells["latitude"],
        longitude=cells["longitude"],
        holidays=cells["holidays"],
        notice_days=cells["notice_days"],
        access_note=cells["access_note"],
        windows=tuple(draft.windows) or (NIGHTLY,),
        shut_days=tuple(
            sorted((s for _, s in draft.shut_days), key=lambda s: (s.from_on, s.to_on))
        ),
    )


def ask_about_access(so_far: Gathering) -> None:
    """Ask about every site of which no access window is told."""
    for site in so_far.sites.values():
        if not site.windows_named and ACCESS_WINDOWS.name not in so_far.unread:
            so_far.note(
                "asks",
                SITES,
                site.line,
                "site",
                f"no access window is told for this site; taken as {NIGHTLY_WORDS}",
                mend="add its hours to access_windows.csv",
            )


def _placed(kind: FileKind, line: Line, so_far: Gathering) -> bool:
    """Whether country, region and coordinates make a place."""
    cells = line.cells
    good = True
    if cells["country"] is not None and cells["region"] is not None:
        problem = country_problem(cells["country"], cells["region"])
        if problem:
            column = "region" if problem.startswith("region") else "country"
            said, _, hint = problem.partition("; ")
            allowed = hint.removeprefix("allowed ") if hint.startswith("allowed ") else ""
            mend = mend_told(problem) if hint else "fill in the country"
            mend = "write one of these" if allowed else mend
            what = f"the {column} is not known" if "not known" in said else said
            so_far.note("stops", kind, line, column, what, allowed=allowed, mend=mend)
            good = False
    for one, other in (("latitude", "longitude"), ("longitude", "latitude")):
        if line.typed(one) and not line.typed(other):
            so_far.note(
                "stops", kind, line, one, f"a {one} needs its {other}", mend=f"fill in the {other}"
            )
            good = False
    if good and not beyond_the_pole(kind, line, so_far):
        cells["latitude"] = cells["longitude"] = None
    return good


def _owned(line: Line, so_far: Gathering) -> None:
    code = line.cells["customer"]
    if code is None or code in so_far.customers:
        return
    if CUSTOMERS.name in so_far.given and CUSTOMERS.name not in so_far.unread:
        so_far.note(
            "asks",
            SITES,
            line,
            "customer",
            "customers.csv does not name this customer; it is taken in with its code as name",
            mend=nearest(code, so_far.customers, "add the customer to customers.csv"),
        )
    so_far.customers[code] = Customer(code=code, name=code)


def _ask_about_shut_year(site: SiteDraft, so_far: Gathering) -> None:
    """Ask where shut days that touch or overlap cover a whole year."""
    reach: date | None = None
    for row, shut in sorted(site.shut_days, key=lambda each: each[1].from_on):
        if reach is None or shut.from_on > reach + timedelta(days=1):
            start, reach = shut.from_on, shut.to_on
        reach = max(reach, shut.to_on)
        if (reach - start).days + 1 >= SHUT_YEAR_DAYS:
            so_far.notes.add(
                "asks",
                SHUT_DAYS.name,
                row,
                f"a shut year: site {site.code} may not be worked from {start} to {reach}",
                column="to_on",
                mend="look at the year, or end the care of its zones",
            )
            return
