"""A blind reading sheet as a table: a row a station, in the columns of `readings.csv`.

Filled in and saved under that name it can be loaded; values and all that is read stay empty.
"""

from collections.abc import Iterator

from floorcare.faces.documents.cells import Row, csv_bytes
from floorcare.services.choose_rounds import RoundSheet

HEADER = (
    *("site", "zone", "station", "taken_at", "measure", "geometry", "method", "value", "state"),
    *("instrument", "reader", "witness"),
)


def write_round_sheet_csv(sheet: RoundSheet) -> bytes:
    """The sheet as CSV."""
    return csv_bytes(HEADER, _rows(sheet))


def _rows(sheet: RoundSheet) -> Iterator[Row]:
    for site in sheet.sites:
        for zone in site.zones:
            code = zone.zone.removeprefix(f"{site.site}/")
            for station in zone.stations:
                yield (
                    *(site.site, code, station.code, "", "gloss", zone.geometry_deg),
                    *("", "", "", "", "", ""),
                )
