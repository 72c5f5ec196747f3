"""Surface prohibitions: what a method, a machine or a product may not be on a surface."""

from floorcare.findings import Finding
from floorcare.ground.rules.sequence import step_problem
from floorcare.ground.trade.equipment import OwnedMachine
from floorcare.ground.trade.surface import Material, Prohibition, Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.ph import cleaner_allowed

PH_KIND = "product pH below"


def names(forbidden: str, text: str) -> bool:
    """Whether every word of what is forbidden stands in the text, whatever joins the words.

    >>> names("brown pad", "17-in pad, brown"), names("brown pad", "brown pads")
    (True, False)

    Source: wording only, no figure.
    """

    def words(text: str) -> set[str]:
        return set("".join(c if c.isalnum() else " " for c in text.casefold()).split())

    return words(forbidden) <= words(text)


def forbidden_thing(surface: Surface, kind: str, text: str) -> Prohibition | None:
    """What forbids a machine or tool of that name on a surface, None where nothing does.

    Parameters
    ----------
    kind : "machine" or "tool".
    text : its code and name.

    Source: the surface's prohibitions.
    """
    found = (p for p in surface.prohibitions if p.kind == kind and names(p.limit, text))
    return next(found, None)


def forbidden_product(surface: Surface, product: Material) -> Prohibition | None:
    """What forbids a product on a surface; one whose pH is not named is not judged here.

    Source: the surface's prohibitions.
    """
    if product.ph is None:
        return None
    low = (p for p in surface.prohibitions if p.kind == PH_KIND)
    return next((p for p in low if not cleaner_allowed(product.ph or 0.0, float(p.limit))), None)


def unfit_methods(surface: Surface) -> dict[Work, Finding]:
    """Treatments of a surface that may not be planned, each with the finding that says why.

    A rung of the ladder that has no method, a method that uses what the surface forbids, one whose
    steps are out of order. The rest of the ladder is climbed without them.

    Source: the surface's own ladder, methods and prohibitions.
    """
    found = {
        work: Finding(
            problem=f"{surface.name}: the ladder names {work}, and no method says how it is done",
            file=f"{surface.code}.toml",
            column=f"treatments.{work}",
            mend="add the treatment, or take the rung off the ladder",
            weight="asks",
        )
        for work in surface.ladder
        if surface.rung(work) is None
    }
    for work in surface.methods:
        finding = _forbidden_step(surface, work) or _disordered(surface, work)
        if finding is not None:
            found[work] = finding
    return found


def _forbidden_step(surface: Surface, work: Work) -> Finding | None:
    """The first step of a method that uses what is forbidden."""
    for step in surface.methods[work].steps:
        machine, tool = surface.machines.get(step.machine), surface.tools.get(step.tool)
        named = {
            "machine": f"{step.machine} {machine.name if machine else ''}".strip(),
            "tool": f"{step.tool} {tool.name if tool else ''}".strip(),
        }
        for kind, text in named.items():
            rule = forbidden_thing(surface, kind, text) if text else None
            if rule is not None:
                return _finding(surface, work, f"{kind} {text}", rule)
        product = surface.materials.get(step.product)
        rule = forbidden_product(surface, product) if product is not None else None
        if product is not None and rule is not None:
            return _finding(surface, work, f"{product.name}, pH {product.ph:g}", rule)
    return None


def _finding(surface: Surface, work: Work, what: str, rule: Prohibition) -> Finding:
    return Finding(
        problem=f"{work} of {surface.name} is not planned: its method uses {what}, and {rule.why}",
        file=f"{surface.code}.toml",
        column=f"treatments.{work}",
        value=what,
        allowed=f"pH {rule.limit} or above" if rule.kind == PH_KIND else f"no {rule.limit}",
        mend="take another, or mend the method",
        weight="asks",
    )


def _disordered(surface: Surface, work: Work) -> Finding | None:
    problem = step_problem(surface, surface.methods[work])
    if not problem:
        return None
    return Finding(
        problem=f"{work} of {surface.name} is not planned: {problem}",
        file=f"{surface.code}.toml",
        column=f"treatments.{work}.steps",
        allowed="polish before protector, protector on a dry floor",
        mend="put its steps in order, with the wait to dry",
        weight="asks",
    )


def machine_problem(surface: Surface, machine: OwnedMachine) -> str:
    """Why a machine of ours may not go on a surface, whatever its kind; "" where it may.

    Source: the surface's prohibitions.
    """
    rule = forbidden_thing(surface, "machine", f"{machine.kind} {machine.name}")
    if rule is None:
        return ""
    return f"{machine.name} may not go on {surface.name}: {rule.why}"
