"""The invented contractor's machines, meters, stock and prices, and what its floors are made of."""
# ruff: noqa: E501 - a table is read one row a line

from collections.abc import Iterator
from datetime import date
from typing import Any

from places import CARE_FROM

Rows = tuple[tuple[Any, ...], ...]

SHARED = (
    # kind, name, how many at each branch
    ("scrubber", "Scrubber", 3),
    ("burnisher", "Burnisher", 3),
    ("diamond_burnisher", "Diamond burnisher", 1),
    ("planetary_polisher", "Three-head polisher", 1),
    ("edge_polisher", "Edge polisher", 2),
    ("rotary", "Floor machine", 2),
    ("hepa_vacuum", "HEPA vacuum", 3),
    ("wet_vacuum", "Wet vacuum", 2),
)
"""Kinds are those of the surface files; of the three-head polisher there is one a branch."""
LETTER = {"TARNHILL": "T", "FLOHRTAL": "F"}
SHORT = {
    "scrubber": "SC", "burnisher": "BU", "diamond_burnisher": "DB", "planetary_polisher": "PP",
    "edge_polisher": "EP", "rotary": "RO", "hepa_vacuum": "HV", "wet_vacuum": "WV",
}  # fmt: skip
OWN: Rows = (
    # machine, kind, name, fuel, branch
    ("F-PB1", "propane_burnisher", "Propane burnisher", "propane", "FLOHRTAL"),
    ("F-WG1", "wet_grinder", "Wet grinder for terrazzo", "", "FLOHRTAL"),
    ("F-EG1", "edge_grinder", "Wet edge grinder", "", "FLOHRTAL"),
    ("F-WP1", "wet_polisher", "Wet polisher for stone", "", "FLOHRTAL"),
)
ON_SITE: Rows = (
    # machine, kind, name, site
    ("F-SC4", "scrubber", "Scrubber of the terminal", "TERMINAL"),
    ("T-SC4", "scrubber", "Scrubber of the market hall", "MARKETHALL"),
)
LENT = ("T-EP2", "MUSEUM", date(2025, 10, 6), date(2025, 10, 31))
"""A machine that stood on a site for a while, the refurbishment of a gallery."""
OUTAGES: Rows = (
    # machine, from_on, to_on
    ("T-DB1", date(2026, 3, 9), date(2026, 3, 20)),
    ("F-EP2", date(2026, 11, 30), date(2026, 12, 4)),
)

INSTRUMENTS: Rows = (
    # instrument, name, measure, serial, calibrated_on, valid_to
    ("GM-11", "Gloss meter 60°, Tarn Hill first", "gloss", "A-1107", date(2024, 9, 16), date(2025, 9, 15)),
    ("GM-11", "Gloss meter 60°, Tarn Hill first", "gloss", "A-1107", date(2025, 9, 8), date(2026, 9, 7)),
    ("GM-11", "Gloss meter 60°, Tarn Hill first", "gloss", "A-1107", date(2026, 8, 31), date(2027, 8, 30)),
    ("GM-12", "Gloss meter 60°, Tarn Hill second", "gloss", "A-1188", date(2024, 10, 7), date(2025, 10, 6)),
    ("GM-12", "Gloss meter 60°, Tarn Hill second", "gloss", "A-1188", date(2025, 10, 6), date(2026, 10, 5)),
    ("GM-12", "Gloss meter 60°, Tarn Hill second", "gloss", "A-1188", date(2026, 9, 28), date(2027, 9, 27)),
    ("GM-21", "Glanzmessgerät 60°", "gloss", "B-0420", date(2024, 11, 4), date(2025, 11, 3)),
    ("GM-21", "Glanzmessgerät 60°", "gloss", "B-0420", date(2025, 10, 27), date(2026, 10, 26)),
    ("GM-21", "Glanzmessgerät 60°", "gloss", "B-0420", date(2026, 10, 19), date(2027, 10, 18)),
    ("SM-11", "Wet DCOF meter", "slip", "C-77", date(2024, 11, 18), date(2025, 11, 17)),
    ("SM-11", "Wet DCOF meter", "slip", "C-77", date(2025, 11, 17), date(2026, 11, 16)),
    ("SM-11", "Wet DCOF meter", "slip", "C-77", date(2026, 11, 16), date(2027, 11, 15)),
    ("SM-21", "Pendel", "slip", "D-5", date(2024, 10, 1), date(2025, 9, 30)),
    ("SM-21", "Pendel", "slip", "D-5", date(2025, 9, 22), date(2026, 9, 21)),
    ("SM-21", "Pendel", "slip", "D-5", date(2026, 9, 21), date(2027, 9, 20)),
)  # fmt: skip
BRIDGES: Rows = (
    # first, second, on, offset_gu, stations
    ("GM-11", "GM-12", date(2024, 11, 22), 0.3, 10),
    ("GM-11", "GM-12", date(2025, 10, 13), 0.2, 10),
    ("GM-11", "GM-12", date(2026, 10, 5), 0.4, 12),
)

STOCK: Rows = (
    # branch, material, on, move, quantity, unit
    ("TARNHILL", "protector", date(2026, 10, 2), "counted", 52, "L"),
    ("TARNHILL", "protector", date(2026, 10, 20), "used", 7.5, "L"),
    ("TARNHILL", "protector", date(2026, 11, 10), "used", 4, "L"),
    ("TARNHILL", "densifier", date(2026, 10, 2), "counted", 38, "L"),
    ("TARNHILL", "neutral_cleaner", date(2026, 10, 2), "counted", 15, "L"),
    ("TARNHILL", "neutral_cleaner", date(2026, 10, 19), "received", 40, "L"),
    ("TARNHILL", "neutral_cleaner", date(2026, 11, 13), "used", 22, "L"),
    ("TARNHILL", "deep_cleaner", date(2026, 10, 2), "counted", 20, "L"),
    ("FLOHRTAL", "protector", date(2026, 9, 30), "counted", 20, "L"),
    ("FLOHRTAL", "protector", date(2026, 10, 26), "received", 20, "L"),
    ("FLOHRTAL", "protector", date(2026, 11, 12), "used", 6, "L"),
    ("FLOHRTAL", "densifier", date(2026, 9, 30), "counted", 25, "L"),
    ("FLOHRTAL", "neutral_cleaner", date(2026, 9, 30), "counted", 60, "L"),
    ("FLOHRTAL", "neutral_cleaner", date(2026, 11, 16), "used", 31, "L"),
    ("FLOHRTAL", "sealer", date(2026, 9, 30), "counted", 10, "L"),
    ("FLOHRTAL", "finish", date(2026, 9, 30), "counted", 15, "L"),
    ("FLOHRTAL", "impregnator", date(2026, 9, 30), "counted", 5, "L"),
    ("FLOHRTAL", "white_pad", date(2026, 9, 30), "counted", 24, "pieces"),
    ("FLOHRTAL", "white_pad", date(2026, 11, 16), "used", 9, "pieces"),
)

SUPPLIES: Rows = (
    # branch, material, pack, unit, lead_days, reserve
    ("TARNHILL", "protector", 19, "L", 10, 10),
    ("TARNHILL", "densifier", 19, "L", 14, 10),
    ("TARNHILL", "neutral_cleaner", 19, "L", 5, 8),
    ("TARNHILL", "deep_cleaner", 19, "L", 7, 4),
    ("FLOHRTAL", "protector", 10, "L", 7, 5),
    ("FLOHRTAL", "densifier", 10, "L", 14, 5),
    ("FLOHRTAL", "neutral_cleaner", 10, "L", 4, 10),
    ("FLOHRTAL", "sealer", 5, "L", 10, 5),
    ("FLOHRTAL", "finish", 10, "L", 7, 5),
    ("FLOHRTAL", "impregnator", 5, "L", 14, 2),
    ("FLOHRTAL", "white_pad", 5, "pieces", 4, 4),
)

RATES: Rows = (
    # branch, kind, amount, currency, from_on, to_on, what
    ("TARNHILL", "labour hour", "27.50", "USD", CARE_FROM, date(2025, 12, 31), ""),
    ("TARNHILL", "labour hour", "28.75", "USD", date(2026, 1, 1), "", ""),
    ("TARNHILL", "night supplement", "3.50", "USD", CARE_FROM, "", ""),
    ("TARNHILL", "overtime hour", "43.10", "USD", date(2026, 1, 1), "", ""),
    ("TARNHILL", "travel km", "0.44", "USD", CARE_FROM, "", ""),
    ("TARNHILL", "machine hour", "18.00", "USD", CARE_FROM, "", "planetary_polisher"),
    ("TARNHILL", "machine hour", "4.20", "USD", CARE_FROM, "", "burnisher"),
    ("TARNHILL", "material litre", "24.60", "USD", CARE_FROM, "", "protector"),
    ("TARNHILL", "material litre", "9.10", "USD", CARE_FROM, "", "densifier"),
    ("TARNHILL", "material litre", "3.40", "USD", CARE_FROM, "", "neutral_cleaner"),
    ("FLOHRTAL", "labour hour", "22.80", "EUR", CARE_FROM, date(2025, 12, 31), ""),
    ("FLOHRTAL", "labour hour", "23.90", "EUR", date(2026, 1, 1), "", ""),
    ("FLOHRTAL", "night supplement", "5.98", "EUR", date(2026, 1, 1), "", ""),
    ("FLOHRTAL", "overtime hour", "29.90", "EUR", date(2026, 1, 1), "", ""),
    ("FLOHRTAL", "travel km", "0.38", "EUR", CARE_FROM, "", ""),
    ("FLOHRTAL", "machine hour", "16.50", "EUR", CARE_FROM, "", "planetary_polisher"),
    ("FLOHRTAL", "machine hour", "14.00", "EUR", CARE_FROM, "", "wet_grinder"),
    ("FLOHRTAL", "machine hour", "3.80", "EUR", CARE_FROM, "", "burnisher"),
    ("FLOHRTAL", "material litre", "21.90", "EUR", CARE_FROM, "", "protector"),
    ("FLOHRTAL", "material litre", "12.40", "EUR", CARE_FROM, "", "finish"),
    ("FLOHRTAL", "material litre", "17.20", "EUR", CARE_FROM, "", "sealer"),
    ("FLOHRTAL", "material litre", "2.95", "EUR", CARE_FROM, "", "neutral_cleaner"),
)

LITHIUM, SODIUM = "lithium silicate", "sodium silicate"
THIN = "acrylic protector, thin coat"
MAKE_UP: Rows = (
    # site, zone, from_on, grit, exposure_class, densifier, protector, joints_m, edges_m,
    # obstruction_share, moisture
    ("MARKETHALL", "NORTH-LANE", CARE_FROM, 800, "B", LITHIUM, THIN, 64, 0, 0.05, ""),
    ("MARKETHALL", "SOUTH-LANE", CARE_FROM, 800, "B", LITHIUM, THIN, 62, 0, 0.05, ""),
    ("MARKETHALL", "STALL-EDGE", CARE_FROM, 800, "B", LITHIUM, THIN, 88, 310, 0.4, ""),
    ("MARKETHALL", "EAST-DOOR", CARE_FROM, 800, "B", LITHIUM, THIN, 12, 14, 0, "damp in winter"),
    ("MUSEUM", "EAST-GALLERY", CARE_FROM, 1500, "A", SODIUM, THIN, 40, 46, 0.1, ""),
    ("MUSEUM", "EAST-GALLERY", date(2025, 10, 20), 3000, "A", LITHIUM, THIN, 40, 46, 0.1, ""),
    ("MUSEUM", "WEST-GALLERY", CARE_FROM, 1500, "A", SODIUM, THIN, 38, 44, 0.1, ""),
    ("MUSEUM", "GALLERY-EDGE", CARE_FROM, 1500, "A", SODIUM, THIN, 120, 480, 0.5, ""),
    ("CONCOURSE", "RAMP", CARE_FROM, 400, "C", LITHIUM, "", 22, 36, 0, ""),
    ("PAKETDEPOT", "DOCK-LANE", CARE_FROM, 400, "C", SODIUM, "", 55, 20, 0, "wet in rain"),
    ("KLINIK", "FOYER-LANE", CARE_FROM, 1500, "A", LITHIUM, THIN, 30, 18, 0.1, ""),
    ("KLINIK", "OLD-HALL", CARE_FROM, 400, "", "", "terrazzo sealer", 90, 60, 0, ""),
    ("TERMINAL", "PIER-NEW", date(2026, 11, 9), "", "B", "", "", 70, 84, 0, "not yet measured"),
    ("GRAUENHOF", "WEST-WING", date(2026, 3, 2), "", "", "", "", 44, 52, 0.1, ""),
    ("GRAUENHOF", "MARBLE-LANE", CARE_FROM, 800, "", "", "impregnator", 60, 40, 0, ""),
)


def _machines() -> Iterator[tuple[str, str, str, str, str, str]]:
    """(machine, kind, name, fuel, branch, site), branch or site left empty."""
    for branch, letter in LETTER.items():
        for kind, name, number in SHARED:
            for n in range(1, number + 1):
                numbered = f"{name} {n}" if number > 1 else name
                yield f"{letter}-{SHORT[kind]}{n}", kind, numbered, "", branch, ""
    for machine, kind, name, fuel, branch in OWN:
        yield machine, kind, name, fuel, branch, ""
    for machine, kind, name, site in ON_SITE:
        yield machine, kind, name, "", "", site


def _machine_places() -> Iterator[tuple[Any, ...]]:
    lent, at, first, last = LENT
    for machine, _, _, _, branch, site in _machines():
        if machine == lent:
            yield machine, branch, "", CARE_FROM, first.replace(day=first.day - 1)
            yield machine, "", at, first, last
            yield machine, branch, "", last.replace(month=last.month + 1, day=1), ""
        else:
            yield machine, branch, site, CARE_FROM, ""


TABLES = {
    "make_up.csv": (
        "site,zone,from_on,grit,exposure_class,densifier,protector,joints_m,edges_m,"
        "obstruction_share,moisture",
        MAKE_UP,
    ),
    "instruments.csv": ("instrument,name,measure,serial,calibrated_on,valid_to", INSTRUMENTS),
    "bridges.csv": ("first,second,on,offset_gu,stations", BRIDGES),
    "machines.csv": ("machine,kind,name,fuel", tuple(row[:4] for row in _machines())),
    "machine_places.csv": ("machine,branch,site,from_on,to_on", tuple(_machine_places())),
    "machine_outages.csv": ("machine,from_on,to_on", OUTAGES),
    "stock.csv": ("branch,material,on,move,quantity,unit", STOCK),
    "supplies.csv": ("branch,material,pack,unit,lead_days,reserve", SUPPLIES),
    "rates.csv": ("branch,kind,amount,currency,from_on,to_on,what", RATES),
}
