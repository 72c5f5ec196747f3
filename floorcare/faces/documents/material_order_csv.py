"""A material order as a table: a row a material; what cannot be reckoned stands below."""

from collections.abc import Iterator

from floorcare.faces.documents import wording
from floorcare.faces.documents.cells import Row, csv_bytes
from floorcare.ground.schedule.material_order import OrderLine
from floorcare.services.order_material import OrderSheet

HEADER = (
    *("branch", "material", "name", "unit", "held", "used", "left", "reserve", "until"),
    *("short on", "order by", "overdue", "packs", "pack", "quantity", "price", "amount"),
    *("currency", "finding"),
)


def write_material_order_csv(sheet: OrderSheet) -> bytes:
    """The order as CSV; volumes in the branch's unit, prices a litre as the rates give them."""
    return csv_bytes(HEADER, _rows(sheet))


def _rows(sheet: OrderSheet) -> Iterator[Row]:
    for line in sheet.order.lines:
        yield _line(line, sheet)
    for finding in sheet.order.findings:
        yield (sheet.branch_code, finding.value, *("",) * 16, str(finding))


def _line(line: OrderLine, sheet: OrderSheet) -> Row:
    def figure(quantity: float) -> float:
        litres = line.unit == "L"
        return wording.volume_figure(quantity, sheet.units) if litres else round(quantity, 2)

    unit = wording.volume_unit(sheet.units) if line.unit == "L" else line.unit
    return (
        *(sheet.branch_code, line.material, line.name, unit),
        *(figure(q) for q in (line.held, line.used, line.left, line.supply.reserve)),
        *(line.last_on, line.short_on, line.order_by, "yes" if line.overdue else "no"),
        *(line.packs, figure(line.supply.pack), figure(line.quantity)),
        "" if line.price is None else str(line.price),
        "" if line.amount is None else str(line.amount),
        *(sheet.order.currency, ""),
    )
