"""Surfaces: one TOML file each, read and checked; every problem of a file is found at once.

Every number of a file stands as `{ value = …, source = "…" }`, with its unit where it is kept as
published. `docs/surfaces.md` explains the keys.
"""

from pathlib import Path
from typing import Any

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.findings import Finding
from floorcare.ground.rules.prohibited import PH_KIND, names
from floorcare.ground.trade.codes import code_problem
from floorcare.ground.trade.surface import (
    Machine,
    Prohibition,
    Rung,
    Step,
    Surface,
)
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.ground.units.ph import cleaner_allowed
from floorcare.store.surface_parts import (
    read_law,
    read_machine,
    read_material,
    read_rung,
    read_step,
    read_tool,
)
from floorcare.store.surface_sheet import SHARE, Number, Sheet

_PACKAGE = Path(__file__).parent.parent
SURFACES_FOLDER = _PACKAGE / "surfaces"
CAUTIONS_FILE = _PACKAGE / "cautions.toml"

_TOP = (
    "name",
    "note",
    "ladder",
    "coat_limit",
    "escape_share",
    "law",
    "materials",
    "machines",
    "tools",
    "prohibitions",
    "steps",
    "treatments",
)
_LIMITS = {"coat_limit": Number(low=1, high=100, whole=True), "escape_share": SHARE}
_PH = {"limit": Number(high=14.0)}
_KINDS = (PH_KIND, "tool", "machine")


def load_surfaces(folder: Path | None = None) -> dict[str, Surface]:
    """Every surface of the folder by its code, which is its file's name.

    Raises
    ------
    NotKnown : the folder holds no surface.
    NotUnderstood : a file cannot be read; the findings list every problem of every file.
    """
    surfaces, findings = readable_surfaces(folder)
    stopping = tuple(f for f in findings if f.weight == "stops")
    if stopping:
        raise NotUnderstood(f"{len(stopping)} problems in the surface files", findings=stopping)
    return surfaces


def readable_surfaces(
    folder: Path | None = None,
) -> tuple[dict[str, Surface], tuple[Finding, ...]]:
    """The surfaces of the folder that can be read, and every problem of every file.

    A file with a problem that stops it is left out; the others can be worked with.

    Raises
    ------
    NotKnown : the folder holds no surface file.
    NotUnderstood : not one of its files can be read.
    """
    folder = folder or SURFACES_FOLDER
    surfaces: dict[str, Surface] = {}
    findings: list[Finding] = []
    for path in sorted(folder.glob("*.toml")):
        try:
            text = _text(path)
        except NotUnderstood as trouble:
            findings.extend(trouble.findings)
            continue
        surface, found = surface_from_text(text, path.stem)
        findings.extend(found)
        if surface is not None:
            surfaces[path.stem] = surface
    stopping = tuple(f for f in findings if f.weight == "stops")
    if stopping and not surfaces:
        raise NotUnderstood(f"{len(stopping)} problems in the surface files", findings=stopping)
    if not surfaces:
        raise NotKnown(
            "there is no surface file here; one <code>.toml a surface", where=str(folder)
        )
    return surfaces, tuple(findings)


def load_cautions(path: Path | None = None) -> dict[str, str]:
    """The text of every caution by its code, in the order of print.

    Raises
    ------
    NotUnderstood : a caution without text or source.
    """
    path = path or CAUTIONS_FILE
    sheet = Sheet(path.name)
    top = sheet.parsed(_text(path))
    texts: dict[str, str] = {}
    for code in top:
        table = sheet.table(top, code, "")
        sheet.only(table, ("text", "source"), code)
        texts[code] = sheet.text(table, "text", code)
        sheet.text(table, "source", code)
    if sheet.findings:
        raise NotUnderstood("the cautions cannot be read", findings=tuple(sheet.findings))
    return texts


def surface_from_text(text: str, code: str) -> tuple[Surface | None, tuple[Finding, ...]]:
    """The surface a TOML text describes, and what is wrong with the text.

    The surface is None where a finding stops it.
    """
    sheet = Sheet(f"{code}.toml")
    if problem := code_problem(code):
        sheet.find("", problem, value=code, mend="rename the file")
    top = sheet.parsed(text)
    if sheet.findings:
        return None, tuple(sheet.findings)
    sheet.only(top, _TOP, "")
    limits = sheet.numbers(top, _LIMITS, "")
    materials = {k: read_material(sheet, k, t) for k, t in sheet.tables(top, "materials")}
    machines = {k: read_machine(sheet, k, t) for k, t in sheet.tables(top, "machines")}
    tools = {k: read_tool(sheet, k, t) for k, t in sheet.tables(top, "tools")}
    prohibitions = _prohibitions(sheet, top)
    steps = {k: read_step(sheet, k, t) for k, t in sheet.tables(top, "steps")}
    _check_steps(sheet, steps, {"machine": machines, "tool": tools, "product": materials})
    methods = _methods(sheet, top, steps, machines)
    surface = Surface(
        code=code,
        name=sheet.text(top, "name", ""),
        law=read_law(sheet, sheet.table(top, "law", "")),
        ladder=_ladder(sheet, top, methods),
        methods=methods,
        materials=materials,
        machines=machines,
        tools=tools,
        prohibitions=prohibitions,
        coat_limit=int(limits["coat_limit"]),
        escape_share=limits["escape_share"],
        note=sheet.text(top, "note", "", needed=False),
    )
    _check_prohibitions(sheet, surface)
    stops = any(f.weight == "stops" for f in sheet.findings)
    return (None if stops else surface), tuple(sheet.findings)


def _check_steps(sheet: Sheet, steps: dict[str, Step], lists: dict[str, Any]) -> None:
    for code, step in steps.items():
        for kind, known in lists.items():
            named = getattr(step, kind)
            if named and named not in known:
                sheet.find(
                    f"steps.{code}.{kind}",
                    f"no such {kind} in this file",
                    value=named,
                    allowed=", ".join(known),
                    mend=f"add it under {kind}s or mend the name",
                )
        if step.coats and not step.product:
            sheet.find(f"steps.{code}.coats", "coats of no product", mend="name the product")


def _methods(
    sheet: Sheet, top: dict[str, Any], steps: dict[str, Step], machines: dict[str, Machine]
) -> dict[Work, Rung]:
    known = {work.value: work for work in TREATMENTS}
    cautions = tuple(load_cautions())
    methods: dict[Work, Rung] = {}
    for name, table in sheet.tables(top, "treatments"):
        place = f"treatments.{name}"
        if name not in known:
            sheet.find(place, "no such treatment", value=name, allowed=", ".join(known))
            continue
        rung = read_rung(sheet, known[name], table, steps, cautions)
        methods[known[name]] = rung
        if missing := sorted(_needed(rung, machines) - rung.needs):
            sheet.find(
                f"{place}.needs",
                "a step needs more than the treatment says",
                value=", ".join(missing),
                mend="add it to needs",
            )
    return methods


def _needed(rung: Rung, machines: dict[str, Machine]) -> frozenset[str]:
    used = [machines[s.machine] for s in rung.steps if s.machine in machines]
    needs = {"wet"} if any(s.wet for s in rung.steps) else set()
    for machine in used:
        needs |= {"loud"} if machine.loud else set()
        needs |= {"dust"} if machine.dust else set()
        needs |= {"fuel machine"} if machine.fuel else set()
    return frozenset(needs)


def _ladder(sheet: Sheet, top: dict[str, Any], methods: dict[Work, Rung]) -> tuple[Work, ...]:
    allowed = tuple(work.value for work in methods)
    names = sheet.codes(top, "ladder", "", allowed=allowed)
    if not names:
        sheet.find("ladder", "the ladder has no rung", mend="name its treatments, mildest first")
    if len(set(names)) < len(names):
        sheet.find("ladder", "a treatment stands twice on the ladder", value=", ".join(names))
    return tuple(Work(name) for name in names)


def _prohibitions(sheet: Sheet, top: dict[str, Any]) -> tuple[Prohibition, ...]:
    found = []
    for number, table in enumerate(sheet.list_of_tables(top, "prohibitions"), start=1):
        place = f"prohibitions[{number}]"
        sheet.only(table, ("kind", "limit", "why"), place)
        kind = sheet.text(table, "kind", place)
        if kind not in _KINDS:
            sheet.find(f"{place}.kind", "no such kind", value=kind, allowed=", ".join(_KINDS))
        if kind == PH_KIND:
            limit = f"{sheet.numbers(table, _PH, place)['limit']:g}"
        else:
            limit = sheet.text(table, "limit", place)
        found.append(Prohibition(kind=kind, limit=limit, why=sheet.text(table, "why", place)))
    return tuple(found)


def _check_prohibitions(sheet: Sheet, surface: Surface) -> None:
    things: dict[str, Any] = {"tool": surface.tools, "machine": surface.machines}
    for rule in surface.prohibitions:
        forbidden = f"forbidden on this surface: {rule.why}"
        if rule.kind == PH_KIND:
            _check_ph(sheet, surface, rule)
        for code, thing in things.get(rule.kind, {}).items():
            if names(rule.limit, f"{code} {thing.name}"):
                place = f"{rule.kind}s.{code}"
                sheet.find(place, forbidden, value=thing.name, mend="take another")


def _check_ph(sheet: Sheet, surface: Surface, rule: Prohibition) -> None:
    for material in surface.materials.values():
        place = f"materials.{material.code}.ph"
        if material.ph is None:
            problem = f"the product's pH is not named, and {rule.why}"
            sheet.find(place, problem, mend="enter it from the data sheet", weight="asks")
        elif not cleaner_allowed(material.ph, float(rule.limit)):
            problem, allowed = f"forbidden on this surface: {rule.why}", f"pH {rule.limit} or above"
            sheet.find(place, problem, value=f"{material.ph:g}", allowed=allowed)


def _text(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        finding = Finding(problem="the file is not UTF-8", file=path.name, mend="save it as UTF-8")
        raise NotUnderstood("a file cannot be read", findings=(finding,)) from error
