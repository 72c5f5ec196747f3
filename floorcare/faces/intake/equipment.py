"""Machines with their places and outages, stock and rates out of their rows."""

from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from floorcare.faces.intake.columns import BRANCHES, SITES
from floorcare.faces.intake.columns_equipment import (
    GALLON,
    MACHINE_OUTAGES,
    MACHINE_PLACES,
    MACHINES,
    RATES,
    STOCK,
    SUPPLIES,
)
from floorcare.faces.intake.drafts import MachineDraft
from floorcare.faces.intake.gathering import Days, Gathering
from floorcare.faces.intake.lines import Line
from floorcare.ground.trade.equipment import (
    MachinePlace,
    OwnedMachine,
    Rate,
    RateKind,
    StockEntry,
    StockMove,
    Supply,
)
from floorcare.ground.units.area import l_from_us_gal

_PRICED = {RateKind.MACHINE_HOUR: "kind of machine", RateKind.MATERIAL_LITRE: "material"}
_HARDLY_ANY = 1e-6
_TWO_PLACES = "end the earlier one the day before with to_on; until then the row read first holds"


def take_machines(lines: Iterator[Line], so_far: Gathering) -> None:
    """Machines by code."""
    seen: dict[Any, int] = {}
    for line in lines:
        code = line.cells["machine"]
        so_far.is_one_of(MACHINES, line, "kind", so_far.machine_kinds, "machine")
        if code and so_far.first_of(MACHINES, line, seen, code, "machine", "the machine"):
            so_far.machines[code] = MachineDraft(line)


def take_machine_places(lines: Iterator[Line], so_far: Gathering) -> None:
    """Places, onto their machines; no machine is in two places at once."""
    held: defaultdict[str, list[Days]] = defaultdict(list)
    for line in lines:
        cells, kind = line.cells, MACHINE_PLACES
        good = so_far.names(kind, line, "machine", so_far.machines, MACHINES)
        good = so_far.names(kind, line, "branch", so_far.branches, BRANCHES) and good
        good = so_far.names(kind, line, "site", so_far.sites, SITES) and good
        good = so_far.in_order(kind, line) and good
        if not (good and line.fits and _one_place(line, so_far)):
            continue
        days = held[cells["machine"]]
        problem = "the machine is in two places at once"
        if so_far.meets_none(kind, line, days, problem, mend=_TWO_PLACES, weight="asks"):
            days.append(so_far.days_of(line))
            so_far.machines[cells["machine"]].places.append(
                MachinePlace(
                    branch=cells["branch"],
                    site=cells["site"],
                    from_on=cells["from_on"],
                    to_on=cells["to_on"],
                )
            )


def take_machine_outages(lines: Iterator[Line], so_far: Gathering) -> None:
    """Days out of order, onto their machines."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, code = line.cells, line.cells["machine"]
        good = so_far.names(MACHINE_OUTAGES, line, "machine", so_far.machines, MACHINES)
        good = so_far.in_order(MACHINE_OUTAGES, line) and good
        if not (good and line.fits):
            continue
        key, what = (code, cells["from_on"]), "this outage of the machine"
        if so_far.first_of(MACHINE_OUTAGES, line, seen, key, "from_on", what):
            so_far.machines[code].outages.append((cells["from_on"], cells["to_on"]))


def take_stock(lines: Iterator[Line], so_far: Gathering) -> None:
    """Stock entries; what was used beyond what was there is asked about."""
    seen: dict[Any, int] = {}
    units: dict[Any, tuple[int, str]] = {}
    moves: defaultdict[Any, list[tuple[Line, StockEntry]]] = defaultdict(list)
    for line in lines:
        cells = line.cells
        good = so_far.names(STOCK, line, "branch", so_far.branches, BRANCHES)
        good = so_far.is_one_of(STOCK, line, "material", so_far.materials, "material") and good
        good = so_far.is_past(STOCK, line, "on", cells["on"]) and good
        if not (good and line.fits):
            continue
        key = (cells["branch"], cells["material"], cells["on"], cells["move"])
        if not so_far.first_of(STOCK, line, seen, key, "on", "this move of the material"):
            continue
        entry = _stock_entry(line)
        row, unit = units.setdefault(key[:2], (line.row, entry.unit))
        if unit != entry.unit:
            problem = f"row {row} counts this material in {unit}"
            mend = "count one material in one unit at a branch"
            so_far.note("stops", STOCK, line, "unit", problem, mend=mend)
            continue
        moves[key[:2]].append((line, entry))
    for of in moves.values():
        _ask_about_overuse(of, so_far)
        so_far.stock.extend(entry for _, entry in of)


def take_supplies(lines: Iterator[Line], so_far: Gathering) -> None:
    """Supplies; one for a material at a branch, in the unit its stock is counted in."""
    seen: dict[Any, int] = {}
    counted = {(entry.branch, entry.material): entry.unit for entry in so_far.stock}
    for line in lines:
        cells = line.cells
        good = so_far.names(SUPPLIES, line, "branch", so_far.branches, BRANCHES)
        good = so_far.is_one_of(SUPPLIES, line, "material", so_far.materials, "material") and good
        if not (good and line.fits):
            continue
        key = (cells["branch"], cells["material"])
        if not so_far.first_of(SUPPLIES, line, seen, key, "material", "this supply"):
            continue
        supply = _supply(line)
        if counted.get(key, supply.unit) != supply.unit:
            problem = f"the branch counts this material in {counted[key]}"
            mend = f"write {counted[key]}, or correct stock.csv"
            so_far.note("stops", SUPPLIES, line, "unit", problem, mend=mend)
            continue
        so_far.supplies.append(supply)


def take_rates(lines: Iterator[Line], so_far: Gathering) -> None:
    """Rates; two of one kind may not overlap at a branch."""
    held: defaultdict[Any, list[Days]] = defaultdict(list)
    for line in lines:
        cells = line.cells
        good = so_far.names(RATES, line, "branch", so_far.branches, BRANCHES)
        good = so_far.in_order(RATES, line) and good
        good = _priced(line, so_far) and good
        if not (good and line.fits):
            continue
        days = held[cells["branch"], cells["kind"], cells["what"]]
        if so_far.meets_none(RATES, line, days, f"two rates of one {cells['kind']} overlap"):
            days.append(so_far.days_of(line))
            _ask_about_currency(line, so_far)
            so_far.rates.append(
                Rate(
                    branch=cells["branch"],
                    kind=cells["kind"],
                    amount=cells["amount"],
                    currency=cells["currency"],
                    from_on=cells["from_on"],
                    to_on=cells["to_on"],
                    what=cells["what"],
                )
            )


def machine_of_draft(draft: MachineDraft) -> OwnedMachine:
    """The machine's record."""
    cells = draft.line.cells
    return OwnedMachine(
        code=cells["machine"],
        kind=cells["kind"],
        name=cells["name"],
        places=tuple(sorted(draft.places, key=lambda place: place.from_on)),
        fuel=cells["fuel"],
        out_of_order=tuple(sorted(draft.outages)),
    )


def _one_place(line: Line, so_far: Gathering) -> bool:
    """Whether a place is a branch or a site, and not both."""
    if bool(line.cells["branch"]) != bool(line.cells["site"]):
        return True
    both = bool(line.cells["site"])
    problem = "a machine stands at a branch or on a site" + (", not both" if both else "")
    mend = "leave one of the two empty" if both else "fill in branch or site"
    so_far.note("stops", MACHINE_PLACES, line, "site", problem, mend=mend)
    return False


def _stock_entry(line: Line) -> StockEntry:
    cells = line.cells
    quantity, unit = cells["quantity"], cells["unit"]
    if unit == GALLON:
        quantity, unit = l_from_us_gal(quantity), "L"
    return StockEntry(
        branch=cells["branch"],
        material=cells["material"],
        on=cells["on"],
        move=cells["move"],
        quantity=quantity,
        unit=unit,
    )


def _supply(line: Line) -> Supply:
    cells = line.cells
    gallons = cells["unit"] == GALLON
    pack, reserve = cells["pack"], cells["reserve"]
    return Supply(
        branch=cells["branch"],
        material=cells["material"],
        pack=l_from_us_gal(pack) if gallons else pack,
        unit="L" if gallons else cells["unit"],
        lead_days=cells["lead_days"],
        reserve=l_from_us_gal(reserve) if gallons else reserve,
    )


def _ask_about_overuse(moves: list[tuple[Line, StockEntry]], so_far: Gathering) -> None:
    """Ask where a branch used more of a material than was left since it was last counted."""
    held: float | None = None
    in_order = sorted(
        moves, key=lambda move: (move[1].on, move[1].move is StockMove.COUNTED, move[0].row)
    )
    for line, entry in in_order:
        if entry.move is StockMove.COUNTED:
            held = entry.quantity
        elif held is not None:
            held += entry.quantity if entry.move is StockMove.RECEIVED else -entry.quantity
            if held < -_HARDLY_ANY:
                problem = f"more was used than there was; {-held:g} {entry.unit} are missing"
                mend = "count again, or add the delivery that is missing"
                so_far.note("asks", STOCK, line, "quantity", problem, mend=mend)
                return


def _priced(line: Line, so_far: Gathering) -> bool:
    """Whether a rate names what it prices where it prices one thing among others."""
    kind = line.cells["kind"]
    if kind is None:
        return True
    what = _PRICED.get(kind)
    if (what is None) != bool(line.typed("what")):
        known = so_far.machine_kinds if kind is RateKind.MACHINE_HOUR else so_far.materials
        return what is None or so_far.is_one_of(RATES, line, "what", known, what)
    problem = f"the rate of a {kind} needs its {what}" if what else f"a {kind} has no further kind"
    mend = "write its code" if what else "leave it empty"
    so_far.note("stops", RATES, line, "what", problem, mend=mend)
    return False


def _ask_about_currency(line: Line, so_far: Gathering) -> None:
    branch = so_far.branches[line.cells["branch"]]
    if branch is not None and branch.currency != line.cells["currency"]:
        problem = f"branch {branch.code} reckons in {branch.currency}"
        mend = "write the rate in that currency, or correct the branch"
        so_far.note("asks", RATES, line, "currency", problem, mend=mend)
