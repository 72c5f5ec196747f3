"""Coordinates that are missing or cannot be meant: asked about, with what they may have been."""

from collections.abc import Iterable
from dataclasses import replace
from math import inf

from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.columns import BRANCHES, SITES
from floorcare.faces.intake.drafts import SiteDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.ground.schedule.travel import UNKNOWN_MINUTES, great_circle_km

FAR_KM = 500.0
"""A site farther from its branch is asked about. Assumption."""
NEAR_KM = 200.0
"""So near it must lie as it may have been meant. Assumption."""
NAMED = 3
TAKEN = f"{UNKNOWN_MINUTES} minutes are taken for the drive"

Point = tuple[float, float]
"""Latitude and longitude in degrees."""


def beyond_the_pole(kind: FileKind, line: Line, so_far: Gathering) -> bool:
    """Whether a row's latitude can be one, or is missing; if not, that is asked about."""
    latitude, longitude = line.cells["latitude"], line.cells["longitude"]
    if latitude is None or longitude is None or abs(latitude) <= 90:
        return True
    mend = "correct the latitude"
    if abs(longitude) <= 90:
        mend = f"were the two swapped? {_written((longitude, latitude))}"
    problem = "no latitude lies beyond the pole"
    mend = f"{mend}; until then {TAKEN}"
    so_far.note("asks", kind, line, "latitude", problem, allowed="-90 to 90 degrees", mend=mend)
    return False


def ask_about_coordinates(so_far: Gathering) -> None:
    """Ask, branch by branch, where coordinates are missing and where they cannot be meant."""
    if SITES.name in so_far.unread or BRANCHES.name in so_far.unread:
        return
    driven = {
        frozenset((leg.branch, leg.leaves or leg.reaches))
        for _, leg in so_far.legs
        if "" in (leg.leaves, leg.reaches)
    }
    for code in so_far.branches:
        sites = [s for s in so_far.sites.values() if s.line.cells["branch"] == code]
        by_map = [s for s in sites if frozenset((code, s.code)) not in driven]
        _ask_about_missing(code, by_map, so_far)
        _ask_about_far(code, sites, so_far)


def _ask_about_missing(code: str, sites: list[SiteDraft], so_far: Gathering) -> None:
    line = so_far.branch_lines[code]
    fill = "fill in latitude and longitude in degrees, or type the drive in travel.csv"
    if not sites or line.typed("latitude") or line.typed("longitude"):
        lacking = [s for s in sites if not (s.line.typed("latitude") or s.line.typed("longitude"))]
        if lacking:
            names = ", ".join(s.code for s in lacking[:NAMED])
            more = f" and {len(lacking) - NAMED} more" if len(lacking) > NAMED else ""
            problem = f"no coordinates of {names}{more}: {TAKEN} from branch {code}"
            so_far.note("asks", SITES, lacking[0].line, "latitude", problem, mend=fill)
        return
    problem = f"no coordinates of branch {code}: {TAKEN} to each of its {len(sites)} sites"
    if len(sites) == 1:
        problem = f"no coordinates of branch {code}: {TAKEN} to {sites[0].code}"
    so_far.note("asks", BRANCHES, line, "latitude", problem, mend=fill)


def _ask_about_far(code: str, sites: list[SiteDraft], so_far: Gathering) -> None:
    branch, base = so_far.branches[code], _point(so_far.branch_lines[code])
    placed = [(site, point) for site in sites if (point := _point(site.line))]
    if branch is None or base is None:
        return
    far = [(site, point) for site, point in placed if _km(base, point) > FAR_KM]
    if len(far) == len(placed) > 1:
        meant = _meant(base, [point for _, point in placed])
        if meant is not None:
            line = so_far.branch_lines[code]
            problem = f"the branch lies over {FAR_KM:.0f} km from each of its sites"
            _ask(BRANCHES, line, problem, meant, so_far)
            so_far.branches[code] = replace(branch, latitude=None, longitude=None)
            return
    for site, point in far:
        problem = f"the site lies {_km(base, point):,.0f} km from its branch {code}"
        meant = _meant(point, [base])
        _ask(SITES, site.line, problem, meant, so_far)
        if meant is not None:
            site.line.cells["latitude"] = site.line.cells["longitude"] = None


def _ask(kind: FileKind, line: Line, problem: str, meant: Point | None, so_far: Gathering) -> None:
    if meant is None:
        mend = "correct latitude, longitude or the branch; until then the drive is taken from them"
    else:
        typed = _point(line) or meant
        swapped = meant == typed[::-1]
        asked = "were the two swapped?" if swapped else "was a sign lost?"
        mend = f"{asked} {_written(meant)}; until then {TAKEN}"
    so_far.note("asks", kind, line, "latitude", problem, mend=mend)


def _meant(point: Point, near: Iterable[Point]) -> Point | None:
    """What the point may have been: swapped, or of another sign, so that it lies near the rest."""
    latitude, longitude = point
    candidates = ((longitude, latitude), (latitude, -longitude), (-latitude, longitude))
    others = list(near)
    for one in candidates:
        if abs(one[0]) <= 90 and max((_km(one, each) for each in others), default=inf) <= NEAR_KM:
            return one
    return None


def _point(line: Line) -> Point | None:
    latitude, longitude = line.cells["latitude"], line.cells["longitude"]
    return None if latitude is None or longitude is None else (latitude, longitude)


def _km(one: Point, other: Point) -> float:
    return great_circle_km(*one, *other)


def _written(point: Point) -> str:
    return f"Write latitude {point[0]:g}, longitude {point[1]:g} if so"
