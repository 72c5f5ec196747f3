"""A small branch with two crews, and its week, for the tests of the crews."""

from dataclasses import replace
from datetime import date, timedelta
from uuid import NAMESPACE_DNS, uuid5

from floorcare.ground.crews.checker import broken_constraints
from floorcare.ground.crews.first_fit import fit_week
from floorcare.ground.crews.week import BranchWeek, CrewNight, CrewStop, WeekFit
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.crew import Crew, CrewMember, Qualification, Shift, Worker
from floorcare.ground.trade.equipment import MachinePlace, OwnedMachine
from floorcare.ground.trade.people import RequirementKind, SiteRequirement
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit
from floorcare.ground.worktime.window import AccessWindow
from tests.builders import (
    ALL_PERMITS,
    WEEKNIGHTS,
    a_book,
    a_branch,
    a_due,
    a_line,
    a_site_book,
    polished,
)
from tests.store.sample import START

MONDAY = date(2026, 3, 2)
TUESDAY = MONDAY + timedelta(days=1)
BASE = {"latitude": 40.0, "longitude": -74.0}
"""Where the branch stands; its sites stand ten and twenty minutes north of it."""
PLACES = {"NORTH": 40.052, "SOUTH": 40.104, "WEST": 40.0}


def a_visit(
    site: str = "NORTH",
    night: date = TUESDAY,
    *,
    minutes: int = 120,
    work: Work = Work.READING_ROUND,
    latest: date | None = None,
    key: str = "",
    **more: object,
) -> Visit:
    """A visit of one line that needs no machine unless its work does."""
    last = latest or night
    due = a_due(work, site=site, earliest=START, target=min(night, last), latest=last)
    own = {"starts_minute": 1320, "people": 2, **more}
    return Visit(
        uuid=str(uuid5(NAMESPACE_DNS, f"{site} {night} {key}")),
        site=site,
        night=night,
        minutes=minutes,
        lines=(a_line(due),),
        **own,  # type: ignore[arg-type]
    )


def a_place(code: str = "NORTH", **more: object) -> SiteBook:
    """A site of one zone, open on weeknights from 22:00 to 06:00, ten minutes away."""
    fields = {"latitude": PLACES.get(code, 40.0), "longitude": -74.0, "country": "", **more}
    wanted = {k: fields.pop(k) for k in ("requirements", "zones") if k in fields}
    book = a_site_book(code, *wanted.pop("zones", (a_book(),)), **fields)  # type: ignore[misc]
    return replace(book, **wanted)


def a_worker(code: str, *held: Qualification, **more: object) -> Worker:
    """Somebody of the branch, named after the code."""
    own = {"branch": "EAST", "qualifications": held, **more}
    return Worker(code=code, name=f"{code.title()} Quill", **own)  # type: ignore[arg-type]


def a_shift(starts: int = 1290, ends: int = 330, **more: object) -> Shift:
    """A shift on weeknights, 21:30 to 05:30, half an hour of it a break."""
    own = {"weekdays": WEEKNIGHTS, "break_minutes": 30, **more}
    return Shift(starts_minute=starts, ends_minute=ends, **own)  # type: ignore[arg-type]


def a_crew(code: str, *workers: str, shifts: tuple[Shift, ...] = (a_shift(),)) -> Crew:
    """A crew of these workers since the beginning."""
    members = tuple(CrewMember(worker=worker, from_on=START) for worker in workers)
    return Crew(
        code=code, branch="EAST", name=f"{code.title()} crew", members=members, shifts=shifts
    )


def a_machine(code: str, kind: str = "burnisher", site: str = "", **more: object) -> OwnedMachine:
    """A machine that stands at the branch, or on a site."""
    places = (MachinePlace(branch="" if site else "EAST", site=site, from_on=START),)
    own = {"places": places, **more}
    return OwnedMachine(code=code, kind=kind, name=f"{kind} {code}", **own)  # type: ignore[arg-type]


def asks(name: str = "safety card", **more: object) -> SiteRequirement:
    """A certificate that a site asks of each worker."""
    own = {"kind": RequirementKind.CERTIFICATE, "each_worker": True, **more}
    return SiteRequirement(name=name, **own)  # type: ignore[arg-type]


def held(name: str = "safety card", expires_on: date | None = None) -> Qualification:
    """A qualification held since the beginning."""
    return Qualification(name=name, from_on=START, expires_on=expires_on)


def open_from(starts: int, ends: int, **more: object) -> dict[str, object]:
    """A site's only access window, as a field of the site."""
    own = {"weekdays": WEEKNIGHTS, "permits": ALL_PERMITS, **more}
    window = AccessWindow(starts_minute=starts, ends_minute=ends, **own)  # type: ignore[arg-type]
    return {"windows": (window,)}


def a_week(*visits: Visit, places: tuple[SiteBook, ...] = (), **more: object) -> BranchWeek:
    """A week of the branch with crews A (two people) and B (two people)."""
    known = {book.site.code: book for book in (a_place("NORTH"), a_place("SOUTH"), *places)}
    own = {
        "branch": a_branch(**BASE),
        "crews": (a_crew("A", "ann", "ada"), a_crew("B", "bob", "bea")),
        "workers": tuple(a_worker(code) for code in ("ada", "ann", "bea", "bob")),
        **more,
    }
    return BranchWeek(
        starts_on=MONDAY,
        books=known,
        visits=visits,
        surfaces={"polished_concrete": polished()},
        **own,  # type: ignore[arg-type]
    )


def fitted(week: BranchWeek) -> WeekFit:
    """The week as the rule fits it, gone over by the checker."""
    fit = fit_week(week)
    assert broken_constraints(week, fit) == ()
    return fit


def stops_of(fit: WeekFit) -> list[tuple[CrewNight, CrewStop]]:
    """Every stop with its night, by date and crew."""
    return [(night, stop) for night in fit.nights for stop in night.stops]


def went(fit: WeekFit) -> list[tuple[str, str, str, str]]:
    """(crew, site, on site, leaves) of every stop, in UTC."""
    return [
        (night.crew, stop.visit.site, f"{stop.starts_at:%a %H:%M}", f"{stop.ends_at:%a %H:%M}")
        for night, stop in stops_of(fit)
    ]
