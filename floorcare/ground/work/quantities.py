"""Quantities: what a treatment of a zone uses up, and which machines and tools it needs."""

from dataclasses import dataclass

from floorcare.ground.trade.surface import Machine, Material, Rung, Surface, Tool


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """How much of a product a line takes.

    litres : of the product itself, not of its mix with water; waste included.
    coats : coats, or charges of a cleaner.
    marked_estimate : the coverage is not from the product's own sheet.
    coverage_m2_per_l : per coat.
    """

    material: str
    name: str
    litres: float
    coats: int
    marked_estimate: bool
    coverage_m2_per_l: float


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
    if not area_m2 >= 0:
        raise ValueError(f"area {area_m2:g} m²: allowed 0 or more")
    coats: dict[str, int] = {}
    for step in rung.steps:
        if step.product:
            coats[step.product] = coats.get(step.product, 0) + step.coats
    return tuple(
        _quantity(surface.materials[code], area_m2, number) for code, number in coats.items()
    )


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


def _quantity(material: Material, area_m2: float, coats: int) -> Quantity:
    one_coat_l = area_m2 / material.coverage_m2_per_l
    return Quantity(
        material=material.code,
        name=material.name,
        litres=one_coat_l * coats * (1.0 + material.waste_share),
        coats=coats,
        marked_estimate=not material.from_sheet,
        coverage_m2_per_l=material.coverage_m2_per_l,
    )
