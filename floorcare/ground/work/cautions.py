"""Cautions: what must stand on the list of a visit, from what its lines do."""

from collections.abc import Iterable

from floorcare.ground.trade.surface import Rung, Surface
from floorcare.ground.work.quantities import machines_used

CAUTIONS = (
    "silica",
    "fine_dust",
    "carbon_monoxide",
    "wet_floor",
    "slurry",
    "chemicals",
    "current",
    "noise",
    "lifting",
    "lone_work",
    "codes_first",
)
"""Every caution by its code, in the order of print, what harms worst first."""


def cautions_for(
    lines: Iterable[tuple[Surface, Rung]],
    *,
    people: int,
    tests_slip: bool = False,
    unwritten: bool = False,
) -> tuple[str, ...]:
    """The codes of the cautions a visit's list must print, each once, in the order of print.

    Parameters
    ----------
    lines : surface and treatment of every line; none where the visit only reads or tests.
    people : people on the visit, 1 or more.
    tests_slip : a slip test is among its lines; every method that can be judged wets the floor.
    unwritten : a line changes a floor whose surface keeps no method for it. What nobody wrote
        down may raise any hazard of floor work, so all are named.

    What the treatments name is joined by what their steps show, so that a method cannot forget
    it; the line that local codes, data sheets and licensed practice come first closes every list.

    Source: 29 CFR 1926.1153 Table 1 (dust), 1910.22 (wet floors), 1910.1000 Table Z-1 (carbon
    monoxide), 1910.1200 (chemicals), 1910.95 (noise).
    """
    codes = {"codes_first"}
    if people == 1:
        codes.add("lone_work")
    if tests_slip:
        codes.add("wet_floor")
    if unwritten:
        codes.update(code for code in CAUTIONS if code != "lone_work")
    for surface, rung in lines:
        codes.update(rung.cautions)
        codes.update(_shown(surface, rung))
    own = sorted(codes.difference(CAUTIONS))
    known = [code for code in CAUTIONS if code in codes]
    return (*known[:-1], *own, known[-1])


def _shown(surface: Surface, rung: Rung) -> set[str]:
    machines = machines_used(surface, rung)
    shown = {
        "silica": any(machine.dust for machine in machines) or "dust" in rung.needs,
        "carbon_monoxide": any(m.fuel for m in machines) or "fuel machine" in rung.needs,
        "wet_floor": any(step.wet for step in rung.steps) or "wet" in rung.needs,
        "chemicals": any(step.product for step in rung.steps),
        "noise": any(machine.loud for machine in machines) or "loud" in rung.needs,
    }
    return {code for code, holds in shown.items() if holds}
