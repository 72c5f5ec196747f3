"""Instruments with their calibrations, and the bridges between meters, in and out of the store."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.equipment import Calibration, Instrument, MeterBridge
from floorcare.store import equipment_rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Writer, ids_by, merge

INSTRUMENTS = Kind(
    table=equipment_rows.instrument,
    word="instruments",
    key=("code",),
    values=("name", "measure", "serial"),
    parented=False,
)
CALIBRATIONS = Kind(
    table=equipment_rows.calibration,
    word="calibrations",
    key=("instrument_id", "done_on"),
    values=("valid_to",),
)
BRIDGES = Kind(
    table=equipment_rows.meter_bridge,
    word="bridges of meters",
    key=("first_id", "second_id", "read_on"),
    values=("offset_gu", "stations"),
)


def put_instruments(writer: Writer, instruments: Iterable[Instrument]) -> tuple[Merged, Merged]:
    """Bring instruments in, with their calibrations."""
    listed = tuple(instruments)
    merged = merge(writer, INSTRUMENTS, ((i.code, i.name, i.measure, i.serial) for i in listed))
    ids = ids_by(writer.connection, equipment_rows.instrument.c.code)
    calibrated = (
        (ids[one.code], calibration.done_on, calibration.valid_to)
        for one in listed
        for calibration in one.calibrations
    )
    return merged, merge(writer, CALIBRATIONS, calibrated)


def put_bridges(writer: Writer, bridges: Iterable[MeterBridge], known: Known) -> Merged:
    """Bring bridges between meters in.

    Raises
    ------
    NotKnown : one of the two meters is neither brought in nor kept.
    """

    def row(bridge: MeterBridge) -> tuple[Any, ...]:
        where = f"bridge {bridge.first} to {bridge.second} on {bridge.on}"
        meters = (
            known.id(equipment_rows.instrument, code, where)
            for code in (bridge.first, bridge.second)
        )
        return (*meters, bridge.on, bridge.offset_gu, bridge.stations)

    return merge(writer, BRIDGES, map(row, bridges))


def instruments_of(connection: Connection) -> tuple[Instrument, ...]:
    """Every instrument with its calibrations, sorted by code, in two statements."""
    calibrated: defaultdict[int, list[Calibration]] = defaultdict(list)
    for row in connection.execute(select(equipment_rows.calibration)):
        calibrated[row.instrument_id].append(
            Calibration(done_on=row.done_on, valid_to=row.valid_to)
        )
    listed = (
        instrument_from_row(row, tuple(sorted(calibrated[row.id], key=lambda c: c.done_on)))
        for row in connection.execute(select(equipment_rows.instrument))
    )
    return tuple(sorted(listed, key=lambda i: i.code))


def instrument_from_row(row: Row[Any], calibrations: tuple[Calibration, ...]) -> Instrument:
    """The instrument of a row, with its calibrations."""
    return Instrument(
        code=row.code,
        name=row.name,
        measure=row.measure,
        serial=row.serial,
        calibrations=calibrations,
    )


def bridges_of(connection: Connection) -> tuple[MeterBridge, ...]:
    """Every bridge between meters, sorted by the two codes and the day."""
    bridge = equipment_rows.meter_bridge
    first, second = (equipment_rows.instrument.alias(name) for name in ("first", "second"))
    found = connection.execute(
        select(bridge, first.c.code.label("first"), second.c.code.label("second"))
        .join(first, bridge.c.first_id == first.c.id)
        .join(second, bridge.c.second_id == second.c.id)
    )
    return tuple(sorted(map(bridge_from_row, found), key=lambda b: (b.first, b.second, b.on)))


def bridge_from_row(row: Row[Any]) -> MeterBridge:
    """The bridge of a row."""
    return MeterBridge(
        first=row.first,
        second=row.second,
        on=row.read_on,
        offset_gu=row.offset_gu,
        stations=row.stations,
    )
