"""Load-out: what goes in the van for a crew's night, which site it is for, what comes back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from math import ceil

from floorcare.ground.crews.week import BranchWeek, CrewNight, CrewStop
from floorcare.ground.schedule.closings import surface_of
from floorcare.ground.schedule.material_use import LITRES, with_lives
from floorcare.ground.trade.equipment import OwnedMachine, Supply
from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.ground.trade.visit import VisitLine
from floorcare.ground.work.cautions import CAUTIONS, cautions_for
from floorcare.ground.work.quantities import (
    Quantity,
    ToolUse,
    machines_used,
    quantities,
    recovered_l,
    tool_uses,
)
from floorcare.ground.work.tool_life import ToolLife

PROTECTION: dict[str, tuple[str, ...]] = {
    "silica": ("respirator", "eye_cover"),
    "fine_dust": ("dust_mask",),
    "carbon_monoxide": ("gas_monitor",),
    "wet_floor": ("signs_and_barriers", "grip_shoes"),
    "slurry": ("wet_gloves", "ph_strips", "slurry_drum"),
    "chemicals": ("wet_gloves", "eye_cover"),
    "current": ("ground_fault_breaker",),
    "noise": ("ear_defenders",),
    "lifting": ("safety_shoes",),
    "lone_work": ("lone_worker_alarm",),
}
"""What each caution asks to be worn or carried.

Source: 29 CFR 1926.1153, 1910.22, 1910.95, 1910.132 to 1910.138, 1910.1200; the rest is common
practice, no source.
"""
_PROTECTION_ORDER = tuple(dict.fromkeys(code for codes in PROTECTION.values() for code in codes))
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadMachine:
    """A machine the work takes.

    code : "" where none of ours is assigned; then one of its kind is to be found.
    stands_at : code of the site it stands on that night, "" where it is loaded.
    """

    code: str
    kind: str
    name: str
    stands_at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadTool:
    """A pad, brush or set of diamonds in whole pieces.

    share : sets the work uses up, None where the life is not known; then one set is loaded.
    """

    tool: str
    name: str
    pieces: int
    share: float | None
    heads: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadProduct:
    """A product with the water to mix it, and the containers to take where a pack is known."""

    material: str
    name: str
    litres: float
    water_l: float
    mixed: str
    estimate: bool
    pack_l: float | None = None

    @property
    def containers(self) -> int | None:
        """Whole packs that hold it, None where no pack is known."""
        return None if self.pack_l is None else ceil(self.litres / self.pack_l - _ROUNDING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What one stop, one night or one week takes; areas not known count as nothing and are named.

    recover_l : used solution, rinse water and slurry.
    water_l : to mix products with.
    unmeasured : zones whose area is not known, as SITE/ZONE.
    """

    machines: tuple[LoadMachine, ...] = ()
    tools: tuple[LoadTool, ...] = ()
    products: tuple[LoadProduct, ...] = ()
    recover_l: float = 0.0
    unmeasured: tuple[str, ...] = ()

    @property
    def water_l(self) -> float:
        """Water to mix with."""
        return sum(product.water_l for product in self.products)


@dataclass(frozen=True, slots=True, kw_only=True)
class StopLoad:
    """What is used at one stop; `zones` are its part of the visit."""

    visit: str
    site: str
    site_name: str
    zones: tuple[str, ...]
    load: Load


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadOut:
    """What goes in the van for one crew-night.

    load : of the whole night.
    tank_l : what the recovery tank must hold if it is emptied between sites; `load.recover_l` if
        it is not.
    protection : codes of what is worn or carried, in the order of the cautions.
    papers : codes of the papers; site_papers : (site, paper) the contractor must hold there.
    """

    crew: str
    name: str
    on: date
    people: int
    load: Load
    tank_l: float
    protection: tuple[str, ...]
    papers: tuple[str, ...]
    site_papers: tuple[tuple[str, str], ...]
    stops: tuple[StopLoad, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchLoadOut:
    """A branch's week: each crew-night with a stop, and all of them summed."""

    branch: str
    starts_on: date
    nights: tuple[LoadOut, ...]
    load: Load


def load_out_of(
    week: BranchWeek,
    night: CrewNight,
    *,
    lives: Mapping[str, ToolLife] | None = None,
    supplies: Iterable[Supply] = (),
) -> LoadOut:
    """What goes in the van for one crew-night.

    Parameters
    ----------
    lives : of tools by code, as learned; none leaves those the surfaces give.
    supplies : the branch's packs, for the containers.
    """
    surfaces = {code: with_lives(s, lives or {}) for code, s in week.surfaces.items()}
    packs = {
        s.material: s.pack for s in supplies if s.branch == week.branch.code and s.unit == LITRES
    }
    stops = tuple(_stop(week, surfaces, stop, packs) for stop in night.stops)
    cautions = {
        code for stop in night.stops for code in _cautions(week, surfaces, stop, night.people)
    }
    worn = {code for caution in cautions for code in PROTECTION.get(caution, ())}
    sites = dict.fromkeys(stop.visit.site for stop in night.stops)
    return LoadOut(
        crew=night.crew,
        name=night.name,
        on=night.on,
        people=night.people,
        load=summed(stop.load for stop in stops),
        tank_l=max((stop.load.recover_l for stop in stops), default=0.0),
        protection=tuple(code for code in _PROTECTION_ORDER if code in worn),
        papers=("visit_list", *(("data_sheets",) if "chemicals" in cautions else ())),
        site_papers=tuple(
            (site, paper.name)
            for site in sites
            for paper in week.books[site].requirements
            if not paper.each_worker
        ),
        stops=stops,
    )


def branch_load_out(
    week: BranchWeek,
    nights: Iterable[CrewNight],
    *,
    lives: Mapping[str, ToolLife] | None = None,
    supplies: Iterable[Supply] = (),
) -> BranchLoadOut:
    """What a branch loads in a week, per crew-night and summed; nights without a stop left out."""
    supplies = tuple(supplies)
    loads = tuple(
        load_out_of(week, night, lives=lives, supplies=supplies) for night in nights if night.stops
    )
    return BranchLoadOut(
        branch=week.branch.code,
        starts_on=week.starts_on,
        nights=loads,
        load=summed(night.load for night in loads),
    )


def summed(loads: Iterable[Load]) -> Load:
    """Several loads as one: machines once, shares of tools added before pieces are rounded up."""
    loads = tuple(loads)
    machines = dict.fromkeys(machine for load in loads for machine in load.machines)
    tools: dict[str, LoadTool] = {}
    products: dict[tuple[str, str], LoadProduct] = {}
    for load in loads:
        for tool in load.tools:
            tools[tool.tool] = _more_of(tools.get(tool.tool), tool)
        for product in load.products:
            key = (product.material, product.mixed)
            products[key] = _more(products.get(key), product)
    return Load(
        machines=tuple(machines),
        tools=tuple(tools.values()),
        products=tuple(products.values()),
        recover_l=sum(load.recover_l for load in loads),
        unmeasured=tuple(dict.fromkeys(zone for load in loads for zone in load.unmeasured)),
    )


def lines_of(stop: CrewStop) -> tuple[VisitLine, ...]:
    """The lines of a stop: those of its own zones where the visit is shared, else all."""
    zones = frozenset(stop.zones)
    return tuple(line for line in stop.visit.lines if not zones or line.zone in zones)


def _stop(
    week: BranchWeek,
    surfaces: Mapping[str, Surface],
    stop: CrewStop,
    packs: Mapping[str, float],
) -> StopLoad:
    lines, visit = lines_of(stop), stop.visit
    loads, kinds = [], dict[str, str]()
    for line, surface, rung in _methods(week, surfaces, stop):
        kinds.update({m.code: m.name for m in machines_used(surface, rung)})
        missing = (f"{visit.site}/{line.zone}",) if line.area_m2 is None else ()
        loads.append(
            Load(
                tools=tuple(map(_tool, tool_uses(surface, rung, line.area_m2))),
                products=tuple(_product(q, packs) for q in quantities(surface, rung, line.area_m2)),
                recover_l=recovered_l(surface, rung, line.area_m2),
                unmeasured=missing,
            )
        )
    machines = Load(machines=_machines(week, stop, kinds))
    return StopLoad(
        visit=visit.uuid,
        site=visit.site,
        site_name=week.site(visit).name,
        zones=tuple(dict.fromkeys(line.zone for line in lines)),
        load=summed((machines, *loads)),
    )


def _methods(
    week: BranchWeek, surfaces: Mapping[str, Surface], stop: CrewStop
) -> list[tuple[VisitLine, Surface, Rung]]:
    zones = {zone.zone.code: zone for zone in week.books[stop.visit.site].zones}
    found = []
    for line in lines_of(stop):
        surface = surface_of(zones[line.zone], stop.visit, surfaces)
        rung = surface.rung(line.work)
        if rung is not None:
            found.append((line, surface, rung))
    return found


def _machines(
    week: BranchWeek, stop: CrewStop, kinds: Mapping[str, str]
) -> tuple[LoadMachine, ...]:
    """Ours by code, then the kinds for which none is assigned."""
    owned = {machine.code: machine for machine in week.machines}
    ours = [owned[code] for code in stop.machines if code in owned]
    have = {machine.kind for machine in ours}
    return (
        *(_ours(machine, stop.visit.night) for machine in ours),
        *(LoadMachine(code="", kind=k, name=n) for k, n in kinds.items() if k not in have),
    )


def _ours(machine: OwnedMachine, night: date) -> LoadMachine:
    place = machine.place_on(night)
    return LoadMachine(
        code=machine.code,
        kind=machine.kind,
        name=machine.name,
        stands_at=place.site if place else "",
    )


def _cautions(
    week: BranchWeek, surfaces: Mapping[str, Surface], stop: CrewStop, people: int
) -> tuple[str, ...]:
    lines, methods = lines_of(stop), _methods(week, surfaces, stop)
    written = {(line.zone, line.work) for line, _, _ in methods}
    codes = cautions_for(
        [(surface, rung) for _, surface, rung in methods],
        people=people,
        tests_slip=any(line.work is Work.SLIP_TEST for line in lines),
        unwritten=any(
            line.work in TREATMENTS and (line.zone, line.work) not in written for line in lines
        ),
    )
    return tuple(code for code in codes if code in CAUTIONS)


def _tool(use: ToolUse) -> LoadTool:
    return LoadTool(
        tool=use.tool,
        name=use.name,
        pieces=_pieces(use.share, use.heads),
        share=use.share,
        heads=use.heads,
    )


def _pieces(share: float | None, heads: int) -> int:
    """Whole pieces: every set begun is loaded whole, and one where the life is not known."""
    return heads * max(1, ceil((share or 0.0) - _ROUNDING))


def _product(quantity: Quantity, packs: Mapping[str, float]) -> LoadProduct:
    return LoadProduct(
        material=quantity.material,
        name=quantity.name,
        litres=quantity.litres,
        water_l=quantity.water_l,
        mixed=quantity.mixed,
        estimate=quantity.marked_estimate,
        pack_l=packs.get(quantity.material),
    )


def _more_of(so_far: LoadTool | None, tool: LoadTool) -> LoadTool:
    if so_far is None:
        return tool
    known = so_far.share is not None and tool.share is not None
    share = (so_far.share or 0.0) + (tool.share or 0.0) if known else None
    heads = max(so_far.heads, tool.heads)
    return LoadTool(
        tool=tool.tool, name=tool.name, pieces=_pieces(share, heads), share=share, heads=heads
    )


def _more(so_far: LoadProduct | None, product: LoadProduct) -> LoadProduct:
    if so_far is None:
        return product
    return LoadProduct(
        material=product.material,
        name=product.name,
        litres=so_far.litres + product.litres,
        water_l=so_far.water_l + product.water_l,
        mixed=product.mixed,
        estimate=so_far.estimate or product.estimate,
        pack_l=product.pack_l,
    )
