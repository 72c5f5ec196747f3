"""Readings and treatments done out of their rows."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from floorcare.faces.intake.columns import READINGS, TREATMENTS_DONE
from floorcare.faces.intake.drafts import ZoneDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.meters import ask_about_calibration, count_uncalibrated
from floorcare.faces.intake.notes import nearest
from floorcare.ground.trade.book import DateKnown, TreatmentDone
from floorcare.ground.trade.reading import MEASURE_RANGE, Measure, Reading
from floorcare.ground.trade.zone import Station
from floorcare.ground.units.slip import REFUSED_METHODS, SLIP_METHODS, slip_value_problem

GLOSS_GEOMETRY = "60"
_UNIT = {Measure.GLOSS: " GU", Measure.DOI: " %", Measure.ROUGHNESS: " µm"}
_METHOD_OF = {name.casefold(): name for name in (*SLIP_METHODS, *REFUSED_METHODS)}


class _Care(NamedTuple):
    """A zone and the days readings of it may have, as ordinals, so that rows compare quickly."""

    zone: ZoneDraft
    first: int
    last: int


def take_readings(lines: Iterator[Line], so_far: Gathering) -> None:
    """Readings, onto their zones."""
    seen: dict[Any, int] = {}
    zones: dict[tuple[str, str], _Care] = {}
    refused: set[str] = set()
    for line in lines:
        cells = line.cells
        code = (cells["site"], cells["zone"])
        care = zones.get(code)
        if care is None:
            zone = so_far.zone_of(READINGS, line)
            if zone is None:
                continue
            care = zones[code] = _care(zone, so_far)
        station_known = _stationed(line, care.zone, so_far)
        if not (line.fits and station_known):
            continue
        on = cells["taken_at"][0]
        outside = not care.first <= on.toordinal() <= care.last
        if (
            outside
            and not cells["withdrawn"]
            and not (
                so_far.is_past(READINGS, line, "taken_at", on)
                and so_far.in_care(READINGS, line, "taken_at", on, care.zone)
            )
        ):
            continue
        reading = _reading(line, so_far, refused)
        if reading is None:
            continue
        key = (
            *code,
            reading.station,
            cells["taken_at"],
            reading.measure,
            reading.geometry_deg,
            reading.method,
            reading.instrument,
            reading.state,
        )
        what = "the reading at this station and minute"
        if not so_far.first_of(READINGS, line, seen, key, "taken_at", what):
            continue
        if so_far.takes_back(line, *code, reading):
            continue
        care.zone.readings.append(reading)
        if reading.instrument in so_far.meters:
            count_uncalibrated(line.row, reading, so_far)
    ask_about_calibration(so_far)


def take_treatments(lines: Iterator[Line], so_far: Gathering) -> None:
    """Treatments done, onto their zones."""
    seen: dict[Any, int] = {}
    for line in lines:
        zone, cells = so_far.zone_of(TREATMENTS_DONE, line), line.cells
        done_on, about_days = cells["done_on"], cells["about_days"]
        good = _dated(line, so_far)
        if not cells["withdrawn"]:
            good = so_far.is_past(TREATMENTS_DONE, line, "done_on", done_on) and good
        if zone is None or not (good and line.fits):
            continue
        if not (cells["withdrawn"] or _on_a_floor(line, zone, so_far)):
            continue
        key = (cells["site"], zone.code, cells["work"], done_on)
        what = "the treatment on this day"
        if not so_far.first_of(TREATMENTS_DONE, line, seen, key, "done_on", what):
            continue
        done = TreatmentDone(
            work=cells["work"],
            done_on=done_on,
            known=cells["known"] or (DateKnown.ABOUT if about_days else DateKnown.KNOWN),
            about_days=about_days,
            share=cells["share"],
            performer=cells["performer"],
        )
        if not so_far.takes_back(line, cells["site"], zone.code, done):
            zone.done.append(done)


def _care(zone: ZoneDraft, so_far: Gathering) -> _Care:
    starts, ends = zone.starts_on, zone.ends_on
    poured_on = zone.value("poured_on")
    first = max((day.toordinal() for day in (starts, poured_on) if day), default=1)
    last = min(day.toordinal() for day in (ends, so_far.today) if day)
    return _Care(zone, first, last)


def _reading(line: Line, so_far: Gathering, refused: set[str]) -> Reading | None:
    cells = line.cells
    measure: Measure = cells["measure"]
    method = cells["method"]
    if measure is Measure.SLIP:
        method = _slip_method(line, so_far, refused)
        if not method:
            return None
    if not _in_range(line, method, so_far):
        return None
    on, minute = cells["taken_at"]
    return Reading(
        zone=cells["zone"],
        station=cells["station"],
        taken_on=on,
        taken_minute=minute,
        measure=measure,
        value=cells["value"],
        state=cells["state"],
        geometry_deg=int(cells["geometry"] or GLOSS_GEOMETRY) if measure is Measure.GLOSS else 0,
        method=method,
        instrument=cells["instrument"],
        reader=cells["reader"],
        witness=cells["witness"],
    )


def _in_range(line: Line, method: str, so_far: Gathering) -> bool:
    measure, value = line.cells["measure"], line.cells["value"]
    low, high = MEASURE_RANGE[measure]
    if low <= value <= high:
        problem = slip_value_problem(method, value) if measure is Measure.SLIP else ""
        if problem:
            so_far.note("stops", READINGS, line, "value", problem, mend="correct value or method")
        return not problem
    unit = _UNIT.get(measure, "")
    mend = "correct the number"
    if value > high and low <= value / 10 <= high:
        mend = f"was a decimal point lost? Write {value / 10:g} if so"
    so_far.note(
        "stops",
        READINGS,
        line,
        "value",
        f"{measure} {value:g}{unit} cannot be",
        allowed=f"{low:g} to {high:g}{unit}",
        mend=mend,
    )
    return False


def _slip_method(line: Line, so_far: Gathering, refused: set[str]) -> str:
    """The method's name as it is known, "" with a note where it is not."""
    typed = line.cells["method"]
    method = _METHOD_OF.get(typed.casefold(), "")
    if not method:
        so_far.note(
            "stops",
            READINGS,
            line,
            "method",
            "a slip reading needs a method known here",
            allowed=", ".join(SLIP_METHODS),
            mend=nearest(typed, _METHOD_OF.values(), "name how it was measured"),
        )
    elif method in REFUSED_METHODS and method not in refused:
        refused.add(method)
        so_far.note(
            "asks",
            READINGS,
            line,
            "method",
            f"readings by this method are kept but not compared: {REFUSED_METHODS[method]}",
            mend=f"measure by {' or '.join(SLIP_METHODS)} next time",
        )
    return method


def _stationed(line: Line, zone: ZoneDraft, so_far: Gathering) -> bool:
    """Whether the station is one of the zone's; where none are listed, readings make them."""
    code = line.cells["station"]
    if not code or code in zone.stations:
        return code is not None
    if not zone.listed_stations:
        zone.stations[code] = Station(code=code)
        return True
    so_far.note(
        "stops",
        READINGS,
        line,
        "station",
        f"zone {line.cells['site']}/{zone.code} has no station of this code in stations.csv",
        mend=nearest(code, zone.stations, "add the station to stations.csv or correct the code"),
    )
    return False


def _dated(line: Line, so_far: Gathering) -> bool:
    """Whether "known" and "about_days" say the same."""
    known, about_days = line.cells["known"], line.cells["about_days"]
    if about_days is None or known is None or (known is DateKnown.ABOUT) == bool(about_days):
        return True
    about = known is DateKnown.ABOUT
    so_far.note(
        "stops",
        TREATMENTS_DONE,
        line,
        "about_days",
        'a date known "about" needs about_days' if about else "a known date has no about_days",
        mend="write how many days either side it may have been" if about else 'write "about"',
    )
    return False


def _on_a_floor(line: Line, zone: ZoneDraft, so_far: Gathering) -> bool:
    """Whether there was a floor to treat, and care had not ended; before care is no problem."""
    done_on = line.cells["done_on"]
    if zone.starts_on is not None and done_on < zone.starts_on:
        poured_on = zone.value("poured_on")
        if poured_on is None or done_on >= poured_on:
            return True
    return so_far.in_care(TREATMENTS_DONE, line, "done_on", done_on, zone)
