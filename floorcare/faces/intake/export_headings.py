"""What headings of exports usually mean; a proposal is made only where one meaning fits."""

import re
from collections.abc import Mapping, Sequence

from floorcare.faces.intake.export_dates import split_moment
from floorcare.faces.intake.export_mapping import (
    READINGS,
    ExportMapping,
    ExportNotes,
    Question,
    Setting,
)
from floorcare.faces.intake.export_table import ExportTable
from floorcare.faces.intake.grid import heading_key

_WHEN: Mapping[str, str] = {
    "moment": "datetime dateandtime timestamp takenat measuredat readat zeitstempel datumuhrzeit "
    "datum/uhrzeit date/time from start",
    "date": "date day datum messdatum messtag measurementdate tag readingdate",
    "time": "time uhrzeit zeit clock hour measurementtime",
}
_WORDS: Mapping[str, Mapping[str, str]] = {
    "readings": {
        **_WHEN,
        "place": "place sample samplename sampleid sampleno location position measuringpoint "
        "measurementpoint spot messstelle messort probe ort bezeichnung name label",
        "site": "site building objekt gebäude",
        "zone": "zone bereich",
        "station": "station point messpunkt stationno",
        "value": "value gloss reading result wert messwert glanz glanzwert glosswert glossvalue",
        "geometry": "geometry angle winkel geometrie measuringangle messwinkel",
        "unit": "unit units einheit",
        "state": "state condition surfacestate floorstate zustand floor",
        "instrument": "instrument meter device serial serialnumber serialno sn gerät seriennummer "
        "gerätenummer instrumentserial glossmeter meterno",
        "reader": "reader operator user readby inspector prüfer bediener technician",
        "witness": "witness zeuge",
    },
    "traffic": {
        **_WHEN,
        "sensor": "sensor counter device location door gate entrance zähler sensorname "
        "countername kanal channel tür",
        "count": "count visitors persons people footfall total passages passes besucher personen "
        "anzahl summe value",
        "in": "in entries entering entered ins eingang rein ein inbound countin",
        "out": "out exits leaving exited ausgang raus aus outbound outs countout",
    },
}
_ROLE_OF: Mapping[str, Mapping[str, str]] = {
    kind: {word: role for role, words in roles.items() for word in words.split()}
    for kind, roles in _WORDS.items()
}
_ANGLE = re.compile(r"(?<![0-9.,])(20|60|85)(?![0-9.,])")
_BESIDE_ANGLE = {"gloss", "glanz", "glanzwert", "specular", "gu", "ge", "value", "wert", "reading"}
_BESIDE_ANGLE |= {"angle", "geometry", "unit", "units", "at", "deg", "degree", "degrees", "grad"}
_UNIT = re.compile(r"\b(?:GU|GE|gloss units?|glanzeinheiten)\b", re.IGNORECASE)
_UNIT_SPELT = {"gu": "GU", "ge": "GU", "glossunits": "GU", "glossunit": "GU"}


def role_of(kind: str, heading: str) -> str:
    """What a heading usually means in exports of that kind, "" where none of ours fits.

    >>> role_of("readings", "Serial no."), role_of("traffic", "In")
    ('instrument', 'in')
    """
    plain = heading_key(re.sub(r"[\[(].*?[\])]", "", heading)).strip(".:")
    return _ROLE_OF[kind].get(plain, "")


def measure_of(heading: str) -> Setting:
    """What a column of values by its heading holds: an angle, DOI, haze; "" where not plain.

    >>> measure_of("Gloss 60° (GU)"), measure_of("85° mean"), measure_of("DOI")
    (60, '', 'DOI')
    """
    plain = re.sub(r"[\[(].*?[\])]|[°%_]", " ", heading).strip()
    if plain.casefold() in ("doi", "haze"):
        return "DOI" if plain.casefold() == "doi" else "haze"
    angles = _ANGLE.findall(re.sub(r"(?<=[a-zA-Z])(?=[0-9])|(?<=[0-9])(?=[a-zA-Z])", " ", plain))
    words = re.findall(r"[^\W\d_]+|[0-9]+", plain.casefold())
    if len(angles) != 1 or not set(words) <= _BESIDE_ANGLE | {angles[0]}:
        return ""
    return int(angles[0])


def unit_in(heading: str) -> str:
    """The unit a heading names: "GU", "%", or "" where it names none."""
    if _UNIT.search(heading.replace("_", " ")):
        return "GU"
    return "%" if "%" in heading else ""


def unit_spelt(text: str) -> str:
    """A cell's unit as we write it; other units stay as typed."""
    return _UNIT_SPELT.get(heading_key(text), text)


def known_headings(kind: str, mapping: ExportMapping) -> set[str]:
    """The headings a mapping names."""
    named = {str(heading) for heading in mapping.table("columns").values()}
    return named | set(mapping.table("values")) if kind == READINGS else named


def proposed(table: ExportTable, mapping: ExportMapping, notes: ExportNotes) -> ExportMapping:
    """The mapping with every column added whose heading leaves no doubt; doubts are asked.

    A column that the mapping names and the table has not is told.
    """
    kind = mapping.kind
    for role, heading in mapping.table("columns").items():
        _must_have(table, str(heading), role, notes)
    for heading in mapping.table("values"):
        _must_have(table, heading, "values", notes)
    taken = known_headings(kind, mapping)
    found: dict[str, list[str]] = {}
    for heading in table.heading:
        role = role_of(kind, heading) if heading and heading not in taken else ""
        if role and role not in mapping.table("columns"):
            found.setdefault(role, []).append(heading)
    if kind == READINGS:
        mapping = _with_values(table, mapping, notes)
        if mapping.table("values") and "geometry" not in found:
            found.pop("value", None)
    _only_moment(table, found, mapping)
    for role, headings in found.items():
        if len(headings) == 1:
            mapping = mapping.with_("columns", role, headings[0])
        elif not mapping.get("fixed", role):
            question = Question("columns", role, tuple(headings))
            problem = f"{len(headings)} columns could hold the {role}"
            notes.ask(question, problem, row=table.heading_row)
    return mapping


def _only_moment(table: ExportTable, found: dict[str, list[str]], mapping: ExportMapping) -> None:
    """A lone column of times holds whole moments; beside a moment, date and time are not read."""
    columns = mapping.table("columns")
    if "moment" in columns or "date" in columns:
        for role in ("moment", "date"):
            found.pop(role, None)
        if "moment" in columns:
            found.pop("time", None)
    elif "date" in found:
        found.pop("moment", None)
    elif "moment" in found:
        found.pop("time", None)
    elif len(found.get("time", ())) == 1 and "time" not in columns:
        heading = found.pop("time")
        first = next((text for _, text in table.cells(heading[0])), "")
        if split_moment(first)[1]:
            found["moment"] = heading


def _with_values(table: ExportTable, mapping: ExportMapping, notes: ExportNotes) -> ExportMapping:
    """Columns of values, one an angle; two of one angle are asked about."""
    if mapping.table("values") or mapping.get("columns", "value"):
        return mapping
    found: dict[Setting, list[str]] = {}
    for heading in table.heading:
        measure = measure_of(heading)
        if measure and not role_of(READINGS, heading):
            found.setdefault(measure, []).append(heading)
    for measure, headings in found.items():
        if len(headings) == 1:
            mapping = mapping.with_("values", headings[0], measure)
            continue
        for heading in headings:
            problem = f"{len(headings)} columns could hold the value of {measure}"
            question = Question("values", heading, (measure, "not read"))
            notes.ask(question, problem, row=table.heading_row, column=heading)
    return mapping


def _must_have(table: ExportTable, heading: str, role: str, notes: ExportNotes) -> None:
    if heading in table.heading:
        if table.heading.count(heading) > 1:
            problem = f"two columns have the heading that holds the {role}"
            mend = "give one of them another heading"
            notes.add("stops", table.file, table.heading_row, problem, column=heading, mend=mend)
        return
    problem = f"the mapping reads a column for the {role} that this file has not"
    notes.add(
        *("stops", table.file, table.heading_row, problem),
        value=heading,
        allowed=", ".join(filter(None, table.heading)),
        mend="correct the heading in the mapping, or take the mapping of this kind of export",
    )


def unread_headings(table: ExportTable, mapping: ExportMapping) -> Sequence[str]:
    """Headings nothing is read from."""
    read = known_headings(mapping.kind, mapping)
    return tuple(heading for heading in table.heading if heading and heading not in read)
