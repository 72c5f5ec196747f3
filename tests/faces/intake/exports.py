"""Small invented exports for the tests of their intake, and the places they speak of."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from floorcare.faces.intake.export_mapping import ExportMapping
from floorcare.faces.intake.export_readings import MeterExport, read_meter_export
from floorcare.faces.intake.export_traffic import CounterExport, read_counter_export
from floorcare.findings import Finding
from floorcare.ground.trade.equipment import Calibration, Instrument
from tests.store.sample import site_book

BOOKS = (site_book("NORTH", zones=("LANE", "EDGE")), site_book("SOUTH", "WEST"))
"""Zones NORTH/LANE, NORTH/EDGE, SOUTH/LANE, each with the stations P1 and P2."""
METERS = (
    Instrument(
        code="M1",
        name="Gloss meter 1",
        measure="gloss",
        serial="G-1001",
        calibrations=(Calibration(done_on=date(2025, 1, 1), valid_to=date(2026, 12, 31)),),
    ),
)
TOLD: Mapping[str, Mapping[str, Any]] = {"fixed": {"state": "after cleaning", "unit": "GU"}}


def readings_of(
    folder: Path, text: str | bytes, said: Mapping[str, Mapping[str, Any]] | None = None
) -> MeterExport:
    """A meter's export of this text, read by what a mapping says."""
    mapping = ExportMapping("readings", TOLD if said is None else said)
    return read_meter_export(_file(folder, text), mapping, BOOKS, METERS)


def counts_of(
    folder: Path, text: str | bytes, said: Mapping[str, Mapping[str, Any]] | None = None
) -> CounterExport:
    """A counter's export of this text, read by what a mapping says."""
    return read_counter_export(_file(folder, text), ExportMapping("traffic", said or {}), BOOKS)


def _file(folder: Path, text: str | bytes) -> Path:
    path = folder / "export.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def told(export: MeterExport | CounterExport) -> list[tuple[int, str, str]]:
    """Row, column and value of every finding."""
    return [(f.row, f.column, f.value) for f in export.findings]


def one(export: MeterExport | CounterExport) -> Finding:
    """The only finding."""
    assert len(export.findings) == 1, [str(f) for f in export.findings]
    return export.findings[0]
