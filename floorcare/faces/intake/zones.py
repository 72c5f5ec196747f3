"""Zones, stations and traffic out of their rows; what a zone is and from when it is under care."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

from floorcare.faces.intake.columns import AREAS, SITES, STATIONS, TRAFFIC, ZONES
from floorcare.faces.intake.drafts import SiteDraft, ZoneDraft
from floorcare.faces.intake.gathering import Days, Gathering
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.notes import nearest
from floorcare.ground.trade.site import Area
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.zone import Opening, Station, Zone, ZoneSpan
from floorcare.ground.units.area import m2_from_ft2

LIFELONG = (
    "name",
    "area",
    "exposure",
    "opening",
    "polished_on",
    "about_days",
    "poured_on",
    "parents",
)
"""Columns that hold for the zone's whole life, whatever changes from one from_on to the next."""


def take_zones(lines: Iterator[Line], so_far: Gathering) -> None:
    """Zone rows, onto their sites; then what the rows of one zone say together is checked."""
    seen: dict[Any, int] = {}
    for line in lines:
        site, code = so_far.site_of(ZONES, line), line.cells["zone"]
        if site is None or code is None:
            continue
        zone = site.zones.setdefault(code, ZoneDraft(code))
        key = (site.code, code, line.cells["from_on"])
        if so_far.first_of(ZONES, line, seen, key, "zone", "the zone with this from_on"):
            zone.rows.append(line)
            _surfaced(line, so_far)
            _sized(line, so_far)
            _ended(line, so_far)
            so_far.in_order(ZONES, line, last=_end_column(line))
            so_far.is_past(ZONES, line, "polished_on", line.cells["polished_on"])
            so_far.is_past(ZONES, line, "poured_on", line.cells["poured_on"])
    for site in so_far.sites.values():
        for zone in site.zones.values():
            _floor_dated(zone, so_far)
            _lifelong(zone, so_far)
            _spans_follow(zone, so_far)
            _opened(zone, so_far)
            _ask_about_area(site, zone, so_far)
            _born(site, zone, so_far)


def take_stations(lines: Iterator[Line], so_far: Gathering) -> None:
    """Stations, onto their zones."""
    seen: dict[Any, int] = {}
    for line in lines:
        zone, code = so_far.zone_of(STATIONS, line), line.cells["station"]
        if zone is None or code is None:
            continue
        zone.listed_stations = True
        key = (line.cells["site"], zone.code, code)
        so_far.first_of(STATIONS, line, seen, key, "station", "the station")
        zone.stations.setdefault(code, Station(code=code, note=line.cells["note"] or ""))


def take_traffic(lines: Iterator[Line], so_far: Gathering) -> None:
    """Traffic rows, onto their zones; two of one kind may not overlap."""
    seen: dict[Any, int] = {}
    held: defaultdict[Any, list[Days]] = defaultdict(list)
    for line in lines:
        zone = so_far.zone_of(TRAFFIC, line)
        if not so_far.in_order(TRAFFIC, line) or zone is None or not line.fits:
            continue
        cells = line.cells
        row = TrafficRow(
            kind=cells["kind"],
            per_day=cells["per_day"],
            counted=cells["counted"],
            from_on=cells["from_on"],
            to_on=cells["to_on"],
        )
        days = held[cells["site"], zone.code, row.kind]
        problem = f"two rows of {row.kind} traffic overlap"
        if not (cells["withdrawn"] or so_far.meets_none(TRAFFIC, line, days, problem)):
            continue
        key = (cells["site"], zone.code, row.kind, row.from_on)
        if not so_far.first_of(TRAFFIC, line, seen, key, "from_on", f"the {row.kind} traffic"):
            continue
        if not so_far.takes_back(line, cells["site"], zone.code, row):
            zone.traffic.append(row)
            days.append(so_far.days_of(line))


def zone_of_draft(draft: ZoneDraft, first_on: date) -> Zone:
    """The zone's record; `first_on` is its first day of care where the file leaves it open."""
    rows = sorted(draft.rows, key=lambda line: line.cells["from_on"] or first_on)
    starts = [line.cells["from_on"] or first_on for line in rows]
    spans = []
    for at, line in enumerate(rows):
        ends = line.cells["to_on"]
        if ends is None and at + 1 < len(rows):
            ends = starts[at + 1] - timedelta(days=1)
        spans.append(
            ZoneSpan(
                from_on=starts[at],
                surface=line.cells["surface"],
                area_m2=_area_m2(line),
                traffic=line.cells["traffic"],
                place=line.cells["place"],
                to_on=ends,
            )
        )
    opening, about_days = _opening(draft)
    return Zone(
        code=draft.code,
        area=draft.value("area") or draft.code,
        name=draft.value("name"),
        spans=tuple(spans),
        exposure=draft.value("exposure"),
        opening=opening,
        polished_on=draft.value("polished_on"),
        about_days=about_days,
        poured_on=draft.value("poured_on"),
        parents=draft.value("parents"),
    )


def fill_areas(site: SiteDraft, so_far: Gathering) -> None:
    """Make the areas that zones name and areas.csv does not; ask where a site has no zone."""
    if not site.zones and ZONES.name not in so_far.unread:
        problem = "the site has no zone in zones.csv, so nothing is planned there"
        so_far.note("asks", SITES, site.line, "site", problem, mend="add its zones")
    listed = set(site.areas)
    for zone in site.zones.values():
        code = zone.value("area") or zone.code
        own = code == zone.code
        if code in site.areas:
            continue
        if listed and not own and AREAS.name not in so_far.unread:
            so_far.note(
                "asks",
                ZONES,
                zone.rows[0],
                "area",
                "areas.csv does not name this area; it is taken in with its code as name",
                mend=nearest(code, listed, "add the area to areas.csv"),
            )
        name = zone.value("name") if own else code
        site.areas[code] = Area(code=code, name=name or code)


def _surfaced(line: Line, so_far: Gathering) -> None:
    surface = line.cells["surface"]
    if surface is None or surface in so_far.surfaces:
        return
    so_far.note(
        "stops",
        ZONES,
        line,
        "surface",
        "this surface is not known",
        allowed=", ".join(sorted(so_far.surfaces)),
        mend=nearest(surface, so_far.surfaces, "write one of the allowed surfaces"),
    )


def _sized(line: Line, so_far: Gathering) -> None:
    if line.typed("area_m2") and line.typed("area_ft2"):
        problem, mend = "the area is given in m² and in ft²", "leave one of the two empty"
        so_far.note("stops", ZONES, line, "area_ft2", problem, mend=mend)


def _area_m2(line: Line) -> float | None:
    area_m2: float | None = line.cells["area_m2"]
    area_ft2: float | None = line.cells["area_ft2"]
    return area_m2 if area_ft2 is None else m2_from_ft2(area_ft2)


def _floor_dated(zone: ZoneDraft, so_far: Gathering) -> None:
    """Note where pour, polish and care do not follow each other."""
    poured_on = zone.value("poured_on")
    if poured_on is None:
        return
    for line in zone.rows:
        for column, what in (("polished_on", "it was polished"), ("from_on", "its care starts")):
            if line.cells[column] and line.cells[column] < poured_on:
                so_far.note(
                    "stops",
                    ZONES,
                    line,
                    column,
                    f"{what} before the floor was poured on {poured_on}",
                    mend="correct one of the two dates",
                )


def _lifelong(zone: ZoneDraft, so_far: Gathering) -> None:
    """Note where rows of one zone disagree in what cannot change."""
    for column in LIFELONG:
        told = [line for line in zone.rows if line.typed(column)]
        for line in told[1:]:
            if line.cells[column] != told[0].cells[column]:
                so_far.note(
                    "stops",
                    ZONES,
                    line,
                    column,
                    f'row {told[0].row} says "{told[0].typed(column)}" of the same zone',
                    allowed="one value for all rows of a zone",
                    mend="write the same in both rows, or make it a zone of its own",
                )


def _spans_follow(zone: ZoneDraft, so_far: Gathering) -> None:
    """Note where the rows of one zone do not follow each other."""
    if len(zone.rows) < 2:
        return
    for line in zone.rows:
        if not line.typed("from_on"):
            so_far.note(
                "stops",
                ZONES,
                line,
                "from_on",
                "a zone with several rows needs from_on in each",
                mend="fill in the day from which the row holds",
            )
    dated = [line for line in zone.rows if line.cells["from_on"] is not None]
    dated.sort(key=lambda line: line.cells["from_on"])
    for line, later in pairwise(dated):
        if line.cells["to_on"] and line.cells["to_on"] >= later.cells["from_on"]:
            so_far.note(
                "stops",
                ZONES,
                line,
                _end_column(line),
                f"the row reaches into row {later.row}, which holds from {later.cells['from_on']}",
                mend="end it the day before, or leave to_on empty",
            )


def _opened(zone: ZoneDraft, so_far: Gathering) -> None:
    """Note where what is said of the opening lacks its dates."""
    if not all(line.fits for line in zone.rows):
        return
    opening, polished_on = zone.value("opening"), zone.value("polished_on")
    about_days = zone.value("about_days")
    if opening in (Opening.DATED, Opening.ABOUT) and polished_on is None:
        problem, column = f'opening "{opening}" needs polished_on', "polished_on"
    elif opening is Opening.ABOUT and not about_days:
        problem, column = f'opening "{opening}" needs about_days', "about_days"
    elif opening is not Opening.ABOUT and opening is not None and about_days:
        problem, column = f'about_days belongs to opening "{Opening.ABOUT}"', "about_days"
    else:
        return
    mend = "fill it in, or correct the opening"
    so_far.note("stops", ZONES, zone.rows[0], column, problem, mend=mend)


def _opening(draft: ZoneDraft) -> tuple[Opening, int]:
    opening: Opening | None = draft.value("opening")
    about_days: int = draft.value("about_days")
    if opening is None:
        if draft.value("polished_on") is None:
            opening = Opening.UNKNOWN
        else:
            opening = Opening.ABOUT if about_days else Opening.DATED
    return opening, about_days


def _ask_about_area(site: SiteDraft, zone: ZoneDraft, so_far: Gathering) -> None:
    for line in zone.rows:
        if line.fits and _area_m2(line) is None:
            so_far.note(
                "asks",
                ZONES,
                line,
                "area_m2",
                f"zone {site.code}/{zone.code} has no area; its work needs typed minutes",
                mend="measure it, or type minutes in routines.csv",
            )


def _ended(line: Line, so_far: Gathering) -> None:
    """Take `ends_on` for `to_on`; note where both are given and differ."""
    cells = line.cells
    if not line.typed("ends_on"):
        return
    if line.typed("to_on") and cells["to_on"] != cells["ends_on"]:
        problem = f"to_on says {line.typed('to_on')}, and both mean the last day"
        so_far.note("stops", ZONES, line, "ends_on", problem, mend="leave one of the two empty")
    cells["to_on"] = cells["ends_on"]


def _end_column(line: Line) -> str:
    return "ends_on" if line.typed("ends_on") else "to_on"


def _born(site: SiteDraft, zone: ZoneDraft, so_far: Gathering) -> None:
    """Note parents that are no zones of the site, or whose care has not ended by then."""
    row = zone.rows[0]
    for parent in zone.value("parents") or ():
        if parent not in site.zones or parent == zone.code:
            problem = f"{parent} is no other zone of site {site.code}"
            near = nearest(parent, set(site.zones) - {zone.code}, "correct the code")
            so_far.note("stops", ZONES, row, "parents", problem, mend=near)
            continue
        starts, ends = zone.starts_on, site.zones[parent].ends_on
        if starts is None:
            if row.fits:
                problem = f"a zone split or merged from {parent} needs the day its care starts"
                mend = f"write the day after {parent} ends"
                so_far.note("stops", ZONES, row, "from_on", problem, mend=mend)
        elif ends is None or ends >= starts:
            said = "is still open" if ends is None else f"is under care until {ends}"
            problem = f"its parent {parent} {said} when it starts on {starts}"
            mend = f"end {parent} with ends_on {starts - timedelta(days=1)}"
            if ends is not None:
                mend += f", or start {zone.code} on {ends + timedelta(days=1)}"
            so_far.note("stops", ZONES, row, "parents", problem, mend=mend)
