"""A branch's week as a table: a row a visit in the order of the crews' nights, then what fits none.

Times are the branch's own clock.
"""

from collections.abc import Iterator

from floorcare.faces.documents import wording
from floorcare.faces.documents.cells import Row, csv_bytes
from floorcare.services.week_sheet import CrewNightSheet, StopSheet, UnfittedNote, WeekSheet

NO_CREW = "fits no crew"
HEADER = (
    *("night", "weekday", "crew", "crew name", "workers", "people out", "shift from", "shift to"),
    *("stop", "drive minutes", "on site", "leaves", "back at branch", "site", "site name"),
    *("visit night", "work", "people needed", "machines", "state", "planned start", "site clock"),
    *("why", "mend", "visit"),
)


def write_week_sheet_csv(sheet: WeekSheet) -> bytes:
    """The week as CSV."""
    return csv_bytes(HEADER, _rows(sheet))


def _rows(sheet: WeekSheet) -> Iterator[Row]:
    for night in sheet.nights:
        for number, stop in enumerate(night.stops, start=1):
            yield _stop(night, number, stop)
    for note in sheet.unfitted:
        yield _unfitted(note)


def _stop(night: CrewNightSheet, number: int, stop: StopSheet) -> Row:
    on = night.on
    last = number == len(night.stops)
    return (
        *(on, wording.WEEKDAYS[on.weekday()], night.crew, night.name, "; ".join(night.workers)),
        night.people,
        wording.clock_iso(night.starts_minute, on),
        wording.clock_iso(night.ends_minute, on),
        *(number, stop.travel_minutes),
        wording.clock_iso(stop.starts_minute, on),
        wording.clock_iso(stop.ends_minute, on),
        wording.clock_iso(night.home_minute if last else None, on),
        *(stop.site, stop.site_name, stop.night, "; ".join(stop.works), stop.people),
        *("; ".join(stop.machines), stop.state),
        wording.clock_iso(stop.planned_minute, on),
        *(stop.site_clock, "", "", stop.uuid),
    )


def _unfitted(note: UnfittedNote) -> Row:
    empty: Row = ("",)
    return (
        *(note.night, wording.WEEKDAYS[note.night.weekday()], *empty * 11),
        *(note.site, note.site_name, note.night, "; ".join(note.works), *empty * 2),
        *(NO_CREW, *empty * 2, note.why, note.mend, note.uuid),
    )
