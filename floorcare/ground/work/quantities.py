"""Quantities: what a treatment of a zone uses up, what it leaves to recover, what it works with."""

from dataclasses import dataclass

from floorcare.ground.trade.surface import Machine, Material, Rung, Step, Surface, Tool
from floorcare.ground.units.dilution import Dilution, product_share


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """How much of a product a line takes.

    litres : of the product itself, not of its mix with water; waste included.
    coats : coats, or charges of a cleaner.
    marked_estimate : the coverage is not from the product's own sheet.
    coverage_m2_per_l : per coat.
    water_l : to mix it with.
    dilution_parts, dilution : N of 1:N and what it means; None for a product used as it comes.
    """

    material: str
    name: str
    litres: float
    coats: int
    marked_estimate: bool
    coverage_m2_per_l: float
    water_l: float = 0.0
    dilution_parts: float | None = None
    dilution: Dilution = Dilution.PARTS_TO_PARTS

    @property
    def mix_l(self) -> float:
        """Product and water together."""
        return self.litres + self.water_l

    @property
    def mixed(self) -> str:
        """The dilution with its convention in words, "" for a product used as it comes."""
        if self.dilution_parts is None:
            return ""
        return f"1:{self.dilution_parts:g}, {self.dilution.value}"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolUse:
    """What a line takes out of a pad, brush or set of diamonds.

    worked_m2 : floor gone over with it, each pass counted; 0 where a step takes fixed minutes.
    heads : pieces that make one set on its machine.
    life_m2 : floor a set goes over before it is used up; None where nobody knows yet.
    """

    tool: str
    name: str
    worked_m2: float
    heads: int = 1
    life_m2: float | None = None

    @property
    def share(self) -> float | None:
        """Sets used up, None where the life is not known."""
        return None if self.life_m2 is None else self.worked_m2 / self.life_m2


def quantities(surface: Surface, rung: Rung, area_m2: float | None) -> tuple[Quantity, ...]:
    """What the method uses up, each product once, in the order of first use.

    Parameters
    ----------
    area_m2 : area to be treated, m²; nothing can be said where it is None.

    Raises
    ------
    ValueError : an area below 0.

    Source: m² over coverage times coats times one and the waste share, arithmetic. Coverage is a
    marked estimate until the product's sheet is entered: published figures spread widely.
    """
    if area_m2 is None:
        return ()
    _check_area(area_m2)
    coats: dict[str, int] = {}
    for step in rung.steps:
        if step.product:
            coats[step.product] = coats.get(step.product, 0) + step.coats
    return tuple(
        _quantity(surface.materials[code], area_m2, number) for code, number in coats.items()
    )


def tool_uses(surface: Surface, rung: Rung, area_m2: float | None) -> tuple[ToolUse, ...]:
    """What the method takes out of its tools, each once, in the order of first use.

    Parameters
    ----------
    area_m2 : area to be treated, m²; None counts as nothing gone over.

    Raises
    ------
    ValueError : an area below 0.

    Source: m² times passes over the life of a set, arithmetic; a set has a piece for each head.
    """
    area_m2 = area_m2 or 0.0
    _check_area(area_m2)
    worked: dict[str, float] = {}
    heads: dict[str, int] = {}
    for step in rung.steps:
        if not step.tool:
            continue
        worked[step.tool] = worked.get(step.tool, 0.0) + step_m2(step, area_m2)
        of_machine = surface.machines[step.machine].heads if step.machine else 1
        heads[step.tool] = max(heads.get(step.tool, 1), of_machine)
    return tuple(
        ToolUse(
            tool=code,
            name=surface.tools[code].name,
            worked_m2=area,
            heads=heads[code],
            life_m2=surface.tools[code].life_m2,
        )
        for code, area in worked.items()
    )


def recovered_l(surface: Surface, rung: Rung, area_m2: float | None) -> float:
    """Litres of used solution, rinse water and slurry to be taken off the floor.

    Parameters
    ----------
    area_m2 : area to be treated, m²; None recovers nothing that could be counted.

    A solution comes back whole, and so does the clear water its machine lays; a coat laid as it
    comes out of its can stays on the floor. Solids are not counted.

    Raises
    ------
    ValueError : an area below 0.

    Assumption: nothing evaporates, so a tank that holds this much holds enough.
    """
    area_m2 = area_m2 or 0.0
    _check_area(area_m2)
    return sum(_step_recovered_l(surface, step, area_m2) for step in rung.steps)


def step_m2(step: Step, area_m2: float) -> float:
    """Floor a step goes over, m², each pass counted; 0 for one that takes fixed minutes.

    Source: m² times passes, arithmetic.
    """
    return area_m2 * step.passes if step.rate_m2_per_hour else 0.0


def machines_used(surface: Surface, rung: Rung) -> tuple[Machine, ...]:
    """The machines the method needs, each once, in the order of first use.

    Source: the surface's own method.
    """
    codes = dict.fromkeys(step.machine for step in rung.steps if step.machine)
    return tuple(surface.machines[code] for code in codes)


def tools_used(surface: Surface, rung: Rung) -> tuple[Tool, ...]:
    """The pads, diamonds and hand tools the method needs, each once, in the order of first use.

    Source: the surface's own method.
    """
    codes = dict.fromkeys(step.tool for step in rung.steps if step.tool)
    return tuple(surface.tools[code] for code in codes)


def _check_area(area_m2: float) -> None:
    if not area_m2 >= 0:
        raise ValueError(f"area {area_m2:g} m²: allowed 0 or more")


def _quantity(material: Material, area_m2: float, coats: int) -> Quantity:
    one_coat_l = area_m2 / material.coverage_m2_per_l
    litres = one_coat_l * coats * (1.0 + material.waste_share)
    return Quantity(
        material=material.code,
        name=material.name,
        litres=litres,
        coats=coats,
        marked_estimate=not material.from_sheet,
        coverage_m2_per_l=material.coverage_m2_per_l,
        water_l=_water_l(material, litres),
        dilution_parts=material.dilution_parts,
        dilution=material.dilution,
    )


def _water_l(material: Material, litres: float) -> float:
    if material.dilution_parts is None:
        return 0.0
    return litres / product_share(material.dilution_parts, material.dilution) - litres


def _step_recovered_l(surface: Surface, step: Step, area_m2: float) -> float:
    if step.product:
        quantity = _quantity(surface.materials[step.product], area_m2, step.coats)
        return quantity.mix_l if quantity.dilution_parts is not None else 0.0
    if not step.machine or not step.wet:
        return 0.0
    return surface.machines[step.machine].water_l_per_m2 * step_m2(step, area_m2)
