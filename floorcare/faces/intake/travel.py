"""Drives as somebody measured them, out of their rows; what is strange about them is asked.

No row here stops the rest: a drive that cannot be is left out, and the map's is taken.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import combinations
from typing import Any

from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.columns import BRANCHES, SITES, TRAVEL
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.notes import nearest
from floorcare.faces.intake.places import site_of_draft
from floorcare.ground.schedule.travel import great_circle_km, travel_minutes
from floorcare.ground.trade.site import Branch, Site, TravelLeg

WILD_FACTOR = 5
"""A typed drive so many times the map's is asked about. Assumption."""
HARDLY_MINUTES = 5
"""The map's drive counts as so long at least: parking alone takes this. Assumption."""
FASTEST_KM_PER_HOUR = 130.0
"""No van does the straight line faster. Assumption."""
HOLES_NAMED = 3
MAP_TAKEN = "until then the map's drive is taken"


def take_travel(lines: Iterator[Line], so_far: Gathering) -> None:
    """Drives, each once; one that cannot be is asked about and left out."""
    seen: dict[Any, int] = {}
    for line in lines:
        if line.fits and _can_be(line, so_far) and _first(line, seen, so_far):
            cells = line.cells
            leg = TravelLeg(
                branch=cells["branch"],
                leaves=cells["from"],
                reaches=cells["to"],
                minutes=cells["minutes"],
                km=cells["km"],
            )
            so_far.legs.append((line, leg))


def _can_be(line: Line, so_far: Gathering) -> bool:
    cells = line.cells
    known: tuple[tuple[str, Collection[str], FileKind], ...] = (
        ("branch", so_far.branches, BRANCHES),
        ("from", so_far.sites, SITES),
        ("to", so_far.sites, SITES),
    )
    unknown = [(c, codes, to) for c, codes, to in known if cells[c] and cells[c] not in codes]
    for column, codes, to in unknown:
        if to.name not in so_far.unread:
            problem = f"there is no {to.codes[0]} of this code in {to.name}"
            otherwise = f"add it to {to.name} or correct the code; {MAP_TAKEN}"
            mend = nearest(cells[column], codes, otherwise)
            so_far.note("asks", TRAVEL, line, column, problem, mend=mend)
    if cells["from"] == cells["to"]:
        problem = f"the drive leads from {cells['from'] or 'the branch'} to itself"
        _ask(so_far, line, "to", problem, "name another place, or leave the row out")
    below = [c for c in ("minutes", "km") if cells[c] is not None and cells[c] < 0]
    for column in below:
        _ask(so_far, line, column, "a drive is never negative", "correct the sign", "0 or more")
    return not (unknown or below or cells["from"] == cells["to"])


def _first(line: Line, seen: dict[Any, int], so_far: Gathering) -> bool:
    cells = line.cells
    first = seen.setdefault((cells["branch"], cells["from"], cells["to"]), line.row)
    if first == line.row:
        return True
    problem = f"this drive is given twice; the first stands in row {first} and is taken"
    so_far.note("asks", TRAVEL, line, "to", problem, mend="leave one of the two out")
    return False


def _ask(
    so_far: Gathering, line: Line, column: str, problem: str, mend: str, allowed: str = ""
) -> None:
    mend = f"{mend}; {MAP_TAKEN}"
    so_far.note("asks", TRAVEL, line, column, problem, allowed=allowed, mend=mend)


def ask_about_drives(so_far: Gathering) -> None:
    """Ask about typed drives wildly unlike the map, and about pairs of places nobody typed."""
    by_branch: dict[str, list[tuple[Line, TravelLeg]]] = {}
    for line, leg in so_far.legs:
        by_branch.setdefault(leg.branch, []).append((line, leg))
    for code, typed in by_branch.items():
        branch = so_far.branches[code]
        served = sorted(s for s, d in so_far.sites.items() if d.line.cells["branch"] == code)
        _ask_about_holes(code, served, typed, so_far)
        if branch is not None:
            _ask_about_wild(branch, typed, so_far)


def _ask_about_holes(
    code: str, served: Iterable[str], typed: list[tuple[Line, TravelLeg]], so_far: Gathering
) -> None:
    known = {frozenset((leg.leaves, leg.reaches)) for _, leg in typed}
    pairs = list(combinations(("", *served), 2))
    holes = [(one, other) for one, other in pairs if frozenset((one, other)) not in known]
    if not holes:
        return
    named = ", ".join(f"{one or code} to {other}" for one, other in holes[:HOLES_NAMED])
    more = f" and {len(holes) - HOLES_NAMED} more" if len(holes) > HOLES_NAMED else ""
    so_far.note(
        "asks",
        TRAVEL,
        typed[0][0],
        "branch",
        f"of {len(pairs)} pairs of places of this branch {len(holes)} are not typed: {named}{more}",
        mend="add a row for each; until then the map fills them",
    )


def _ask_about_wild(branch: Branch, typed: list[tuple[Line, TravelLeg]], so_far: Gathering) -> None:
    places: Mapping[str, Branch | Site] = {"": branch} | {
        leg: site_of_draft(so_far.sites[leg])
        for _, one in typed
        for leg in (one.leaves, one.reaches)
        if leg and so_far.sites[leg].line.fits
    }
    for line, leg in typed:
        if leg.leaves not in places or leg.reaches not in places:
            continue
        start, end = places[leg.leaves], places[leg.reaches]
        straight = _straight_km(start, end)
        if straight is None:
            continue
        mapped, least = travel_minutes(start, end), straight / FASTEST_KM_PER_HOUR * 60
        mend = "correct it here, or the coordinates; until then it is taken as typed"
        said = f"the map says {mapped} min and {straight:.0f} km in a straight line"
        if leg.minutes > WILD_FACTOR * max(mapped, HARDLY_MINUTES):
            problem = f"the drive is over {WILD_FACTOR} times as long as the map's: {said}"
            so_far.note("asks", TRAVEL, line, "minutes", problem, mend=mend)
        elif leg.minutes < int(least):
            problem = f"the drive would need more than {FASTEST_KM_PER_HOUR:.0f} km/h: {said}"
            so_far.note("asks", TRAVEL, line, "minutes", problem, mend=mend)
        if leg.km is not None and leg.km < int(straight):
            problem = f"the road is shorter than the straight line: {said}"
            so_far.note("asks", TRAVEL, line, "km", problem, mend=mend)


def _straight_km(start: Branch | Site, end: Branch | Site) -> float | None:
    ends = (start.latitude, start.longitude, end.latitude, end.longitude)
    if None in ends:
        return None
    return great_circle_km(*(float(degrees or 0.0) for degrees in ends))
