"""The parts of a surface's file, each from its own table: material, machine, tool, step, rung."""

from typing import Any

from floorcare.ground.trade.surface import Effect, Machine, Material, Rung, Step, Tool, WearLaw
from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.dilution import Dilution, product_share
from floorcare.ground.worktime.window import PERMITS
from floorcare.store.surface_sheet import COUNT, DAYS, SHARE, Number, Sheet

_RATE = Number(high=10.0)
_SPREAD = Number(high=5.0)
_LAW = {
    **dict.fromkeys(("haze_rate", "film_rate", "scratch_rate", "ageing", "film_gloss"), _RATE),
    **dict.fromkeys(("haze_loss", "film_scratch_share", "finish_floor", "gross_share"), SHARE),
    **dict.fromkeys(("rate_sd_counted", "rate_sd_assumed", "first_reading_sd"), _SPREAD),
    **dict.fromkeys(("drift_sd", "shock_sd", "instrument_sd", "station_sd"), _SPREAD),
    "rate_correlation": Number(low=-1.0, high=1.0),
    "gross_factor": Number(low=1.0, high=100.0),
    "day_sd": Number(high=5.0, default=0.0),
}
_EFFECT = {
    "haze_kept": Number(high=1.0, default=1.0),
    "film_kept": Number(high=1.0, default=1.0),
    "scratch_kept": Number(high=1.0, default=1.0),
    "film_to": Number(high=1.0, optional=True),
    "scratch_to": Number(high=10.0, optional=True),
    "level_sd": Number(high=1.0, default=0.0),
    "spread": Number(high=5.0, default=0.0),
}
_STEP = {
    "rate": Number(low=0.1, high=100_000.0, default=0.0, unit="m2/h"),
    "minutes_fixed": Number(high=1440.0, default=0.0),
    "passes": Number(low=1, high=20, default=1, whole=True),
    "wait_minutes": Number(high=2880, default=0, whole=True),
    "coats": Number(low=1, high=10, default=0, whole=True),
    "people": Number(low=1, high=20, default=1, whole=True),
}
_RUNG = {
    "worthwhile_hold_days": DAYS,
    "forward_days": DAYS,
    "cap_days": Number(low=1, high=36_500, whole=True, optional=True),
    "min_age_days": DAYS,
    "after_densify_hours": COUNT,
}
_MATERIAL = {
    "coverage": Number(low=0.01, high=100_000.0, unit="m2/L"),
    "waste_share": SHARE,
    "ph": Number(high=14.0, optional=True),
    "dilution": Number(low=2.0, high=10_000.0, optional=True, unit="parts in all"),
}
_MACHINE = {
    "width": Number(low=0.01, high=5.0, default=0.0, unit="m"),
    "heads": Number(low=1, high=12, default=1, whole=True),
    "water_l_per_m2": Number(high=20.0, default=0.0),
}
_FLAGS = ("changes_surface", "restores_slip", "resets_reading")


def read_law(sheet: Sheet, table: dict[str, Any]) -> WearLaw:
    """The wear law from its table."""
    sheet.only(table, _LAW, "law")
    return WearLaw(**sheet.numbers(table, _LAW, "law"))


def read_material(sheet: Sheet, code: str, table: dict[str, Any]) -> Material:
    """A product; its coverage is of the product, not of the mix it is used in."""
    place = f"materials.{code}"
    sheet.only(table, ("name", "from_sheet", *_MATERIAL), place)
    figures = sheet.numbers(table, _MATERIAL, place)
    name, coverage = sheet.text(table, "name", place), figures["coverage"]
    convention = Dilution.PARTS_TO_PARTS
    if (parts := figures["dilution"]) is not None:
        # The file gives the coverage of the mix; what is ordered and carried is the product.
        coverage /= product_share(parts - 1.0, Dilution.PARTS_TO_PARTS)
        name += f", 1 part to {parts - 1.0:g} of water"
        convention = _convention(table["dilution"])
        parts -= 1.0 if convention is Dilution.PARTS_TO_PARTS else 0.0
    return Material(
        code=code,
        name=name,
        coverage_m2_per_l=coverage,
        waste_share=figures["waste_share"],
        ph=figures["ph"],
        from_sheet=sheet.flag(table, "from_sheet", place),
        source=sheet.source_of(table, "coverage"),
        dilution_parts=parts,
        dilution=convention,
    )


def _convention(figure: object) -> Dilution:
    """What 1:N means in the file; a unit that means nothing was told when the figure was read."""
    unit = figure.get("unit") if isinstance(figure, dict) else None
    part_in_parts = unit == Dilution.PART_IN_PARTS.value
    return Dilution.PART_IN_PARTS if part_in_parts else Dilution.PARTS_TO_PARTS


def read_machine(sheet: Sheet, code: str, table: dict[str, Any]) -> Machine:
    """A kind of machine."""
    place = f"machines.{code}"
    sheet.only(table, ("name", "fuel", "loud", "dust", *_MACHINE), place)
    figures = sheet.numbers(table, _MACHINE, place)
    return Machine(
        code=code,
        name=sheet.text(table, "name", place),
        width_m=figures["width"],
        fuel=sheet.text(table, "fuel", place, needed=False),
        loud=sheet.flag(table, "loud", place),
        dust=sheet.flag(table, "dust", place),
        heads=int(figures["heads"]),
        water_l_per_m2=figures["water_l_per_m2"],
    )


def read_tool(sheet: Sheet, code: str, table: dict[str, Any]) -> Tool:
    """A pad, brush or diamond set."""
    place = f"tools.{code}"
    sheet.only(table, ("name", "life"), place)
    life = {"life": Number(low=1.0, high=1e7, optional=True, unit="m2")}
    figures = sheet.numbers(table, life, place)
    return Tool(code=code, name=sheet.text(table, "name", place), life_m2=figures["life"])


def read_step(sheet: Sheet, code: str, table: dict[str, Any]) -> Step:
    """A step; one that names a product lays one coat unless it says more."""
    place = f"steps.{code}"
    sheet.only(table, ("name", "machine", "tool", "product", "wet", *_STEP), place)
    figures = sheet.numbers(table, _STEP, place)
    product = sheet.text(table, "product", place, needed=False)
    if not figures["rate"] and not figures["minutes_fixed"]:
        sheet.find(place, "the step has neither a rate nor fixed minutes", mend="give one")
    return Step(
        name=sheet.text(table, "name", place),
        machine=sheet.text(table, "machine", place, needed=False),
        tool=sheet.text(table, "tool", place, needed=False),
        rate_m2_per_hour=figures["rate"],
        passes=int(figures["passes"]),
        minutes_fixed=figures["minutes_fixed"],
        wait_minutes=int(figures["wait_minutes"]),
        product=product,
        coats=int(figures["coats"] or bool(product)),
        people=int(figures["people"]),
        wet=sheet.flag(table, "wet", place),
    )


def read_rung(
    sheet: Sheet,
    work: Work,
    table: dict[str, Any],
    steps: dict[str, Step],
    cautions: tuple[str, ...],
) -> Rung:
    """A treatment with its effect, its rules and its method."""
    place = f"treatments.{work}"
    sheet.only(table, ("effect", "needs", "cautions", "steps", "source", *_FLAGS, *_RUNG), place)
    figures = sheet.numbers(table, _RUNG, place)
    effect = {} if "effect" not in table else sheet.table(table, "effect", place)
    sheet.only(effect, tuple(_EFFECT), f"{place}.effect")
    kept = sheet.numbers(effect, _EFFECT, f"{place}.effect")
    spread = kept.pop("spread")
    named = sheet.codes(table, "steps", place, allowed=tuple(steps))
    if not named:
        sheet.find(f"{place}.steps", "the method has no step", mend="name its steps in order")
    cap = figures["cap_days"]
    return Rung(
        work=work,
        effect=Effect(**kept),
        effect_spread=spread,
        worthwhile_hold_days=int(figures["worthwhile_hold_days"]),
        forward_days=int(figures["forward_days"]),
        cap_days=None if cap is None else int(cap),
        min_age_days=int(figures["min_age_days"]),
        after_densify_hours=int(figures["after_densify_hours"]),
        changes_surface=sheet.flag(table, "changes_surface", place),
        restores_slip=sheet.flag(table, "restores_slip", place),
        resets_reading=sheet.flag(table, "resets_reading", place),
        needs=frozenset(sheet.codes(table, "needs", place, allowed=PERMITS)),
        steps=tuple(steps[code] for code in named),
        cautions=sheet.codes(table, "cautions", place, allowed=cautions),
        source=sheet.text(table, "source", place),
    )
