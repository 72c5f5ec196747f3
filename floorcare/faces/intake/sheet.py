"""The five-column sheet: site, what, every, last done about, minutes; alone enough to plan with."""

import re
import unicodedata
import zlib
from dataclasses import dataclass, field
from datetime import date

from floorcare.faces.intake.agreed import note_rhythm, rhythm
from floorcare.faces.intake.columns import SHEET
from floorcare.faces.intake.dating import ABOUT_ALLOWED, About, about_day
from floorcare.faces.intake.grid import Grid
from floorcare.faces.intake.lines import Line, lines_of
from floorcare.faces.intake.notes import Notes
from floorcare.faces.intake.places import NIGHTLY, NIGHTLY_WORDS, SINCE_EVER
from floorcare.faces.intake.readers import TIME_ZONE, mend_told
from floorcare.faces.intake.taken import Taken
from floorcare.faces.intake.unfit import Unfit
from floorcare.ground.trade.book import DateKnown, Portfolio, SiteBook, TreatmentDone, ZoneBook
from floorcare.ground.trade.codes import CODE_LONGEST
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.site import Area, Branch, BranchSpan, Customer, Site
from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.ground.trade.treatment import TREATMENTS
from floorcare.ground.trade.zone import Opening, Zone, ZoneSpan
from floorcare.ground.worktime.night import check_zone

BRANCH = "base"
ZONE = "floor"
SURFACE = "polished_concrete"
DATE_COLUMN = "last done about"


@dataclass(slots=True)
class _Row:
    """A site of the sheet: its first row and what its rows say."""

    name: str
    row: int
    routines: list[Routine] = field(default_factory=list)
    done: list[TreatmentDone] = field(default_factory=list)
    first_rows: dict[tuple[str, str], int] = field(default_factory=dict)


def read_sheet(
    grid: Grid, notes: Notes, *, surfaces: frozenset[str], today: date, time_zone: str
) -> Taken:
    """Read a five-column sheet: one zone a site, one routine a row.

    `time_zone` is where the sites are; "" takes UTC and asks.
    """
    _ask_about_the_unsaid(grid, notes, surfaces, time_zone)
    sites: dict[str, _Row] = {}
    rows = 0
    for line in lines_of(SHEET, grid, notes):
        rows += 1
        _take(line, grid, sites, notes, today)
    if not rows:
        mend = "add rows: site, what, every, last done about, minutes"
        notes.add("stops", grid.file, grid.heading_row, "there is no row", mend=mend)
    zone_name = time_zone or "UTC"
    return Taken(
        portfolio=Portfolio() if notes.stops else _portfolio(sites, today, zone_name),
        findings=notes.findings(),
        files=(grid.file,),
        rows=rows,
        kind="sheet",
    )


def site_code(name: str) -> str:
    """A code made of a site's name; a name without Latin letters gets a number of its own.

    >>> site_code("Café Nord, Hall B")
    'CAFE-NORD-HALL-B'
    """
    plain = unicodedata.normalize("NFKD", name.replace("ß", "ss")).encode("ascii", "ignore")
    code = re.sub(r"[^A-Za-z0-9]+", "-", plain.decode()).strip("-").upper()
    if not code:
        return f"SITE-{zlib.crc32(name.casefold().encode()):08X}"
    if len(code) > CODE_LONGEST:
        return f"{code[: CODE_LONGEST - 9].rstrip('-')}-{zlib.crc32(code.encode()):08X}"
    return code


def _take(line: Line, grid: Grid, sites: dict[str, _Row], notes: Notes, today: date) -> None:
    """One row: its site, its routine, and when it was last done."""
    last_done, dated = _last_done(line, grid, notes, today)
    starts_on = last_done.on if last_done else today
    rule = _rule(line, grid, notes, starts_on)
    name = line.cells["site"]
    if name is None:
        return
    site = _site(name, line, grid, sites, notes)
    if not (line.fits and dated and rule and site):
        return
    work = line.cells["what"]
    first = site.first_rows.setdefault((work, rule), line.row)
    if first != line.row:
        notes.add(
            "stops",
            grid.file,
            line.row,
            f"this work at this rhythm is given twice; the first stands in row {first}",
            column="what",
            value=line.typed("what"),
            mend="leave one of the two out",
        )
        return
    about_days = last_done.about_days if last_done else 0
    site.routines.append(
        Routine(
            work=work,
            rule=rule,
            starts_on=starts_on,
            performer=Performer.US,
            proof=Proof.ASSUMED,
            minutes=line.cells["minutes"],
            about_days=about_days,
        )
    )
    if last_done and work in TREATMENTS:
        known = DateKnown.ABOUT if about_days else DateKnown.KNOWN
        site.done.append(
            TreatmentDone(work=work, done_on=starts_on, known=known, about_days=about_days)
        )


def _site(name: str, line: Line, grid: Grid, sites: dict[str, _Row], notes: Notes) -> _Row | None:
    site = sites.setdefault(site_code(name), _Row(name, line.row))
    if site.name == name:
        return site
    notes.add(
        "stops",
        grid.file,
        line.row,
        f'the name makes the same code as "{site.name}" in row {site.row}',
        column="site",
        value=name,
        allowed="names that differ in more than case, accents and signs",
        mend="write both alike if they are one site, else make the names differ",
    )
    return None


def _last_done(line: Line, grid: Grid, notes: Notes, today: date) -> tuple[About | None, bool]:
    """When the row's work was last done, and whether that is understood."""
    text = line.cells[DATE_COLUMN]
    if text is None:
        return None, False
    try:
        found = about_day(text, today)
    except Unfit as trouble:
        notes.add(
            "stops",
            grid.file,
            line.row,
            f"it {trouble.problem}",
            column=DATE_COLUMN,
            value=text,
            allowed=trouble.allowed,
            mend=trouble.mend,
        )
        return None, False
    if found is None:
        notes.add(
            "asks",
            grid.file,
            line.row,
            "it is not told when this was last done; the first is planned from today",
            column=DATE_COLUMN,
            value=text,
            allowed=ABOUT_ALLOWED,
            mend="write it as roughly as it is known",
        )
    return found, True


def _rule(line: Line, grid: Grid, notes: Notes, starts_on: date) -> str:
    every = line.cells["every"]
    if every is None:
        return ""
    rule, problem = rhythm(every, starts_on)
    if problem:
        note_rhythm(notes, grid.file, line, problem)
    return rule


def _ask_about_the_unsaid(
    grid: Grid, notes: Notes, surfaces: frozenset[str], time_zone: str
) -> None:
    """Note what a sheet cannot say and what is taken instead."""
    if SURFACE not in surfaces:
        allowed = ", ".join(sorted(surfaces))
        problem = f"a sheet takes every floor as {SURFACE}, which is not known"
        notes.add("stops", grid.file, 0, problem, allowed=allowed, mend="use a folder of files")
    notes.add(
        "asks",
        grid.file,
        0,
        f"a sheet tells no access windows; every site is taken as open {NIGHTLY_WORDS}",
        mend="use a folder of files once the hours are known",
    )
    if not time_zone:
        mend = "name it when loading, such as Europe/Berlin"
        notes.add("asks", grid.file, 0, "a sheet tells no time zone; UTC is taken", mend=mend)
        return
    try:
        check_zone(time_zone)
    except ValueError as trouble:
        notes.add(
            "stops",
            grid.file,
            0,
            "the time zone named when loading is not known",
            value=time_zone,
            allowed=TIME_ZONE.allowed,
            mend=mend_told(str(trouble)),
        )


def _portfolio(sites: dict[str, _Row], today: date, time_zone: str) -> Portfolio:
    base = Branch(code=BRANCH, name="Base", time_zone=time_zone)
    return Portfolio(
        customers=tuple(
            Customer(code=code, name=site.name) for code, site in sorted(sites.items())
        ),
        branches=(base,),
        books=tuple(_book(code, site, today, time_zone) for code, site in sorted(sites.items())),
    )


def _book(code: str, site: _Row, today: date, time_zone: str) -> SiteBook:
    """A site with its one zone, under care since the first work told of it."""
    span = ZoneSpan(
        from_on=min((routine.starts_on for routine in site.routines), default=today),
        surface=SURFACE,
        area_m2=None,
        traffic=TrafficLevel.MODERATE,
    )
    # a sheet knows one floor a site, so the site's name says which floor is meant
    zone = Zone(code=ZONE, area=ZONE, name=site.name, spans=(span,), opening=Opening.UNKNOWN)
    return SiteBook(
        site=Site(
            code=code,
            customer=code,
            name=site.name,
            time_zone=time_zone,
            branches=(BranchSpan(branch=BRANCH, from_on=SINCE_EVER),),
            windows=(NIGHTLY,),
        ),
        areas=(Area(code=ZONE, name=site.name),),
        zones=(
            ZoneBook(
                zone=zone,
                done=tuple(sorted(site.done, key=lambda d: (d.done_on, d.work))),
                routines=tuple(sorted(site.routines, key=lambda r: (r.starts_on, r.work, r.rule))),
            ),
        ),
    )
