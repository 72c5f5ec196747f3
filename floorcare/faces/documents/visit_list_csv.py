"""The week's visit lists as a table: a row a line, then a row for each due without a night."""

from collections.abc import Iterator

from floorcare.faces.documents import wording
from floorcare.faces.documents.cells import Row, csv_bytes
from floorcare.faces.documents.visit_list_text import products
from floorcare.services.sheets import SheetLine, UnplacedNote, VisitSheet, WeekLists

NOT_PLACED = "could not be placed"


def write_visit_list_csv(lists: WeekLists) -> bytes:
    """The lines as CSV; times are the site's own clock, areas in the branch's unit."""
    return csv_bytes(_header(lists), _rows(lists))


def _header(lists: WeekLists) -> tuple[str, ...]:
    return (
        *("site", "site name", "address", "customer", "night", "weekday", "on site", "leaves"),
        *("people", "state", "access", "notice", "zone", "area name", "zone name", "work"),
        *(f"area {wording.area_unit(lists.units)}", "person minutes", "closes", "starts", "ends"),
        *("reopens", "steps", "machines", "pads and tools", "products", "readings at"),
        *("why", "mend", "cautions", "reopening", "visit"),
    )


def _rows(lists: WeekLists) -> Iterator[Row]:
    for sheet in lists.sheets:
        for line in sheet.zones:
            yield _line(sheet, line, lists)
    for note in lists.unplaced:
        yield _unplaced(note)


def _line(sheet: VisitSheet, line: SheetLine, lists: WeekLists) -> Row:
    night = sheet.night
    area = None if line.area_m2 is None else wording.area_figure(line.area_m2, lists.units)
    clocks = (line.closes_minute, line.starts_minute, line.ends_minute, line.reopens_minute)
    stations = (place.station or "whole zone" for place in sheet.reading_places)
    readings = "; ".join(stations) if line.work == "reading round" else ""
    return (
        *(sheet.site, sheet.site_name, sheet.address, sheet.customer),
        *(night, wording.WEEKDAYS[night.weekday()]),
        wording.clock_iso(sheet.starts_minute, night),
        wording.clock_iso(sheet.ends_minute, night),
        *(sheet.people, sheet.state),
        ". ".join(filter(None, (sheet.access_window, sheet.access_note))),
        *(sheet.notice, line.zone, line.area_name, line.zone_name, line.work),
        *(area, line.person_minutes),
        *(wording.clock_iso(minute, night) for minute in clocks),
        _joined(step.name for step in line.steps),
        _joined(step.machine for step in line.steps),
        _joined(step.tool for step in line.steps),
        "; ".join(products(line.quantities, lists.units)),
        *(readings, line.reason_inside, ""),
        *(" ".join(sheet.cautions), sheet.reopening, sheet.uuid),
    )


def _unplaced(note: UnplacedNote) -> Row:
    empty: Row = ("",)
    return (
        *(note.site, *empty * 8, NOT_PLACED, *empty * 2, note.zone, *empty * 2, note.work),
        *(*empty * 11, note.why, note.mend, *empty * 3),
    )


def _joined(words: Iterator[str]) -> str:
    return "; ".join(dict.fromkeys(filter(None, words)))
