"""Load-outs as a table: a row for each thing loaded for a stop."""

from collections.abc import Iterator

from floorcare.faces.documents import wording
from floorcare.faces.documents.cells import Cell, Row, csv_bytes
from floorcare.ground.crews.load_out import LoadOut, StopLoad
from floorcare.services.load_out_sheet import LoadOutSheet
from floorcare.services.sheets import Units


def write_load_out_csv(sheet: LoadOutSheet) -> bytes:
    """The load-outs as CSV; volumes in the branch's unit."""
    unit = wording.volume_unit(sheet.units)
    header = (
        *("crew", "crew name", "night", "site", "zones", "kind", "code", "name", "pieces"),
        *("sets used up", f"volume {unit}", f"water {unit}", "dilution", "estimate"),
    )
    return csv_bytes(header, _rows(sheet))


def _rows(sheet: LoadOutSheet) -> Iterator[Row]:
    for night in sheet.nights:
        for stop in night.stops:
            for cells in _loaded(stop, sheet.units):
                yield (*_place(night, stop), *cells)


def _place(night: LoadOut, stop: StopLoad) -> tuple[Cell, ...]:
    return (night.crew, night.name, night.on, stop.site, " ".join(stop.zones))


def _loaded(stop: StopLoad, units: Units) -> Iterator[tuple[Cell, ...]]:
    empty: tuple[Cell, ...] = ("",)
    for machine in stop.load.machines:
        kind = "machine there" if machine.stands_at else "machine"
        yield (kind, machine.code or machine.kind, machine.name, *empty * 6)
    for tool in stop.load.tools:
        share = "" if tool.share is None else round(tool.share, 4)
        yield ("tool", tool.tool, tool.name, tool.pieces, share, *empty * 4)
    for product in stop.load.products:
        litres = wording.volume_figure(product.litres, units)
        water = wording.volume_figure(product.water_l, units)
        estimate = "yes" if product.estimate else "no"
        yield (
            *("product", product.material, product.name, "", ""),
            *(litres, water, product.mixed, estimate),
        )
    if stop.load.recover_l:
        volume = wording.volume_figure(stop.load.recover_l, units)
        yield ("to recover", "", "used water and slurry", "", "", volume, *empty * 3)
