"""Instruments with their calibrations, and the bridges between them, out of their rows."""

from collections.abc import Iterator
from typing import Any

from floorcare.faces.intake.columns import READINGS
from floorcare.faces.intake.columns_equipment import BRIDGES, INSTRUMENTS
from floorcare.faces.intake.drafts import MeterDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.ground.trade.equipment import Calibration, MeterBridge
from floorcare.ground.trade.reading import Reading

BRIDGE_DAYS = 365
BRIDGE_SPREAD_GU = 3.0
"""Two bridges of one pair within a year that lie further apart than this contradict each other.
Assumption."""
_LIFELONG = ("name", "measure", "serial")


def take_instruments(lines: Iterator[Line], so_far: Gathering) -> None:
    """Instruments by code; each row may bring a calibration."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, code = line.cells, line.cells["instrument"]
        if code is None:
            continue
        meter = so_far.meters.setdefault(code, MeterDraft(line))
        key = (code, cells["calibrated_on"])
        what = "the instrument with this calibration"
        good = so_far.first_of(INSTRUMENTS, line, seen, key, "instrument", what)
        good = _same_meter(line, meter, so_far) and good
        if _calibrated(line, so_far) and good and line.fits and cells["calibrated_on"]:
            meter.calibrations.append(
                Calibration(done_on=cells["calibrated_on"], valid_to=cells["valid_to"])
            )


def take_bridges(lines: Iterator[Line], so_far: Gathering) -> None:
    """Bridges; those of one pair of meters that contradict each other are asked about."""
    seen: dict[Any, int] = {}
    for line in lines:
        first, second, on = (line.cells[column] for column in ("first", "second", "on"))
        named = [
            so_far.names(BRIDGES, line, column, so_far.meters, INSTRUMENTS)
            for column in ("first", "second")
        ]
        good = so_far.is_past(BRIDGES, line, "on", on) and all(named)
        if first is not None and first == second:
            problem = "a bridge needs two meters, and both are the same"
            so_far.note("stops", BRIDGES, line, "second", problem, mend="name the other meter")
            good = False
        if not (good and line.fits):
            continue
        key = (*sorted((first, second)), on)
        what = "the bridge between these meters"
        if so_far.first_of(BRIDGES, line, seen, key, "on", what):
            bridge = MeterBridge(
                first=first,
                second=second,
                on=on,
                offset_gu=line.cells["offset_gu"],
                stations=line.cells["stations"],
            )
            _ask_about_contradiction(line, bridge, so_far)
            so_far.bridges.append((line.row, bridge))


def count_uncalibrated(row: int, reading: Reading, so_far: Gathering) -> None:
    """Count a reading by a known meter that no calibration covers."""
    meter = so_far.meters[reading.instrument]
    if not meter.calibrated_on(reading.taken_on):
        meter.uncalibrated += 1
        meter.first_row = meter.first_row or row


def ask_about_calibration(so_far: Gathering) -> None:
    """Ask about each meter that was read with outside its calibrations."""
    if INSTRUMENTS.name in so_far.unread:
        return
    for code, meter in so_far.meters.items():
        if meter.uncalibrated:
            many = "1 reading" if meter.uncalibrated == 1 else f"{meter.uncalibrated:,} readings"
            so_far.notes.add(
                "asks",
                READINGS.name,
                meter.first_row,
                f"no calibration of this meter covers {many}, of which this row is the first",
                column="instrument",
                value=code,
                mend="add the calibration to instruments.csv, or have the meter calibrated",
            )


def _same_meter(line: Line, meter: MeterDraft, so_far: Gathering) -> bool:
    """Whether a further row of an instrument says the same of it as its first."""
    for column in _LIFELONG:
        if line.typed(column) and line.cells[column] != meter.line.cells[column]:
            problem = (
                f'row {meter.line.row} says "{meter.line.typed(column)}" of the same instrument'
            )
            mend = "write the same in both rows, or give the other meter a code of its own"
            so_far.note("stops", INSTRUMENTS, line, column, problem, mend=mend)
            return False
    return True


def _calibrated(line: Line, so_far: Gathering) -> bool:
    """Whether a calibration has its two days, in order and not in the future."""
    for one, other in (("calibrated_on", "valid_to"), ("valid_to", "calibrated_on")):
        if line.typed(one) and not line.typed(other):
            problem = f"a calibration needs {other} too"
            so_far.note("stops", INSTRUMENTS, line, other, problem, mend="fill it in")
            return False
    past = so_far.is_past(INSTRUMENTS, line, "calibrated_on", line.cells["calibrated_on"])
    return so_far.in_order(INSTRUMENTS, line, "calibrated_on", "valid_to") and past


def _ask_about_contradiction(line: Line, bridge: MeterBridge, so_far: Gathering) -> None:
    for row, other in so_far.bridges:
        if {other.first, other.second} != {bridge.first, bridge.second}:
            continue
        offset_gu = other.offset_gu if other.first == bridge.first else -other.offset_gu
        apart_gu = abs(offset_gu - bridge.offset_gu)
        if abs((other.on - bridge.on).days) <= BRIDGE_DAYS and apart_gu > BRIDGE_SPREAD_GU:
            so_far.note(
                "asks",
                BRIDGES,
                line,
                "offset_gu",
                f"row {row} says {offset_gu:+g} GU of the same meters on {other.on}, "
                f"{apart_gu:g} GU away",
                allowed=f"within {BRIDGE_SPREAD_GU:g} GU of another within {BRIDGE_DAYS} days",
                mend="read both meters at the same stations again; look at sign and calibration",
            )
            return
