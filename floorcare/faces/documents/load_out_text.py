"""Load-outs as plain words, laid out afterwards by the page and the printed sheet."""

from floorcare.faces.documents import wording
from floorcare.ground.crews.load_out import (
    Load,
    LoadMachine,
    LoadOut,
    LoadProduct,
    LoadTool,
    StopLoad,
)
from floorcare.services.load_out_sheet import LoadOutSheet
from floorcare.services.sheets import Units

Plain = dict[str, object]

TEXTS = {
    "title": "Load-out, {branch}: week of {day}",
    "when": "Load-out, week of {day}",
    "night": "{name}, {day}",
    "answer": "{nights} to load in the week of {day}.",
    "nothing": "Nothing to load in the week of {day}.",
    "week_summed": "The whole week together",
    "used_at": "Used at",
    "machines": "Machines",
    "tools": "Pads and tools",
    "products": "Products",
    "water": "Water",
    "protection": "Protection",
    "papers": "Papers",
    "load": "Load",
    "none": "none",
    "any_of_kind": "{name}: none of ours is assigned, take one that is free",
    "stands_there": "{name}: stands at {site} already",
    "pieces": "{name}: {pieces}",
    "share": "{share} of a set",
    "life_unknown": "life not known, one set",
    "mixed": "with {water} of water ({mixed})",
    "containers": "take {number} × {pack}",
    "estimate": "estimate",
    "water_total": "{water} to mix with",
    "recover": "{all} of used water and slurry come back; one site at most {site}",
    "unmeasured": "Area not known, so nothing is counted for it: {zones}",
    "paper_of_site": "{paper} ({site})",
    "visit_list": "visit list",
    "data_sheets": "data sheets of the products",
    "respirator": "respirator",
    "eye_cover": "eye cover",
    "dust_mask": "dust mask",
    "gas_monitor": "carbon monoxide monitor",
    "signs_and_barriers": "wet-floor signs and barriers",
    "grip_shoes": "shoes with grip in the wet",
    "wet_gloves": "chemical gloves",
    "ph_strips": "pH strips",
    "slurry_drum": "closed drum for slurry",
    "ground_fault_breaker": "ground-fault breaker",
    "ear_defenders": "ear defenders",
    "safety_shoes": "safety shoes",
    "lone_worker_alarm": "alarm for lone work",
}
"""Every word of a load-out by its code."""


def as_text(sheet: LoadOutSheet) -> Plain:
    """Everything the load-outs say, as nested dicts, lists and strings."""
    day = wording.day_words(sheet.starts_on)
    count = wording.count(len(sheet.nights), "crew-night")
    answer = TEXTS["answer"].format(nights=count, day=day)
    return {
        "title": TEXTS["title"].format(branch=sheet.branch, day=day),
        "heading": sheet.branch,
        "when": TEXTS["when"].format(day=day),
        "answer": answer if sheet.nights else TEXTS["nothing"].format(day=day),
        "as_of": f"As of {sheet.as_of}" if sheet.as_of else "",
        "used_at": TEXTS["used_at"],
        "nights": [_night(night, sheet.units) for night in sheet.nights],
        "week_name": TEXTS["week_summed"] if sheet.week else "",
        "week": _rows(sheet.week.load, sheet.units) if sheet.week else [],
    }


def machine_words(load: Load) -> list[str]:
    """Machines by code, then the kinds of which none is assigned."""
    return [_machine(machine) for machine in load.machines]


def _machine(machine: LoadMachine) -> str:
    if not machine.code:
        return TEXTS["any_of_kind"].format(name=machine.name)
    name = f"{machine.name} {machine.code}"
    if machine.stands_at:
        return TEXTS["stands_there"].format(name=name, site=machine.stands_at)
    return name


def tool_words(tool: LoadTool) -> str:
    """A tool in whole pieces, with the share of its life the work takes."""
    pieces = wording.count(tool.pieces, "piece")
    said = TEXTS["pieces"].format(name=tool.name, pieces=pieces)
    share = "life_unknown" if tool.share is None else "share"
    return f"{said} ({TEXTS[share].format(share=_share(tool.share or 0.0))})"


def product_words(product: LoadProduct, units: Units) -> str:
    """A product with its water, containers, and whether the figure is an estimate."""
    parts = [f"{product.name.partition(', 1 part')[0]} {_volume(product.litres, units)}"]
    if product.mixed:
        water = _volume(product.water_l, units)
        parts.append(TEXTS["mixed"].format(water=water, mixed=product.mixed))
    notes = []
    if product.containers is not None and product.pack_l is not None:
        pack = _volume(product.pack_l, units)
        notes.append(TEXTS["containers"].format(number=product.containers, pack=pack))
    if product.estimate:
        notes.append(TEXTS["estimate"])
    said = " ".join(parts)
    return f"{said}; {', '.join(notes)}" if notes else said


def night_name(night: LoadOut) -> str:
    """The crew and its night."""
    return TEXTS["night"].format(name=night.name, day=wording.day_words(night.on))


def papers_of(night: LoadOut) -> list[str]:
    """The papers to take."""
    return [
        *(TEXTS[code] for code in night.papers),
        *(TEXTS["paper_of_site"].format(paper=p, site=s) for s, p in night.site_papers),
    ]


def _night(night: LoadOut, units: Units) -> Plain:
    rows = _rows(night.load, units, tank_l=night.tank_l)
    rows.append(_row("protection", [TEXTS[code] for code in night.protection]))
    rows.append(_row("papers", papers_of(night)))
    return {
        "name": night_name(night),
        "rows": [row for row in rows if row["cells"]],
        "stops": [_stop(stop, units, alone=len(night.stops) == 1) for stop in night.stops],
    }


def _stop(stop: StopLoad, units: Units, *, alone: bool) -> Plain:
    # the only stop of a night uses all that stands above it
    rows = [] if alone else _rows(stop.load, units)
    return {
        "site": stop.site,
        "name": stop.site_name,
        "zones": ", ".join(stop.zones),
        "rows": [row for row in rows if row["cells"]],
    }


def _rows(load: Load, units: Units, *, tank_l: float | None = None) -> list[Plain]:
    water = []
    if load.water_l:
        water.append(TEXTS["water_total"].format(water=_volume(load.water_l, units)))
    if load.recover_l:
        site = _volume(load.recover_l if tank_l is None else tank_l, units)
        all_of_it = _volume(load.recover_l, units)
        recover = TEXTS["recover"].format(all=all_of_it, site=site)
        water.append(recover if tank_l is not None else recover.partition(";")[0])
    if load.unmeasured:
        water.append(TEXTS["unmeasured"].format(zones=", ".join(load.unmeasured)))
    return [
        _row("machines", machine_words(load)),
        _row("tools", [tool_words(tool) for tool in load.tools]),
        _row("products", [product_words(product, units) for product in load.products]),
        _row("water", water),
    ]


def _row(code: str, cells: list[str]) -> Plain:
    return {"name": TEXTS[code], "cells": cells}


def _volume(litres: float, units: Units) -> str:
    return wording.bound(wording.volume_words(litres, units))


def _share(share: float) -> str:
    return f"{share:.2f}" if share >= 0.01 else "under 0.01"
