"""The files about things of ours: meters, machines, stock, and what work costs us."""

from floorcare.faces.intake.column import MAY, TO_ON, Column, FileKind, must
from floorcare.faces.intake.readers import (
    AMOUNT,
    CODE,
    CURRENCY,
    DAY,
    NAME,
    member,
    number,
    one_of,
    whole,
)
from floorcare.ground.trade.equipment import RateKind, StockMove
from floorcare.ground.trade.reading import Measure

GALLON = "gal"
_MEASURES = one_of([measure.value for measure in Measure])
_UNITS = one_of(
    ("L", "pieces", GALLON),
    {"litre": "L", "litres": "L", "liter": "L", "liters": "L"}
    | {"piece": "pieces", "pcs": "pieces"}
    | {"gallon": GALLON, "gallons": GALLON, "US gal": GALLON},
)

INSTRUMENTS = FileKind(
    "instruments.csv",
    "a meter; a further row is a further calibration",
    (
        must("instrument", CODE),
        must("name", NAME),
        must("measure", _MEASURES),
        Column("serial", NAME, MAY, ""),
        Column("calibrated_on", DAY, "not calibrated"),
        Column("valid_to", DAY, "not calibrated"),
    ),
    codes=("instrument",),
)
BRIDGES = FileKind(
    "bridges.csv",
    "two meters read at the same stations on one day",
    (
        must("first", CODE),
        must("second", CODE),
        must("on", DAY),
        must("offset_gu", number(-100, 100, "GU")),
        must("stations", whole(1, 1_000)),
    ),
)
MACHINES = FileKind(
    "machines.csv",
    "one machine of ours",
    (
        must("machine", CODE),
        must("kind", CODE),
        must("name", NAME),
        Column("fuel", NAME, "none", ""),
    ),
    codes=("machine",),
)
MACHINE_PLACES = FileKind(
    "machine_places.csv",
    "where a machine stands, from one day to another",
    (
        must("machine", CODE),
        Column("branch", CODE, "see site", ""),
        Column("site", CODE, "see branch", ""),
        must("from_on", DAY),
        TO_ON,
    ),
)
MACHINE_OUTAGES = FileKind(
    "machine_outages.csv",
    "days on which a machine is out of order",
    (must("machine", CODE), must("from_on", DAY), must("to_on", DAY)),
)
STOCK = FileKind(
    "stock.csv",
    "a count, a delivery or a use of a material at a branch",
    (
        must("branch", CODE),
        must("material", CODE),
        must("on", DAY),
        must("move", member(StockMove)),
        must("quantity", number(0, 1_000_000)),
        Column("unit", _UNITS, "L", "L"),
    ),
)
SUPPLIES = FileKind(
    "supplies.csv",
    "how a branch buys a material, or a pad or diamond",
    (
        must("branch", CODE),
        must("material", CODE),
        must("pack", number(0.001, 1_000_000)),
        Column("unit", _UNITS, "L", "L"),
        Column("lead_days", whole(0, 366), "0", 0),
        Column("reserve", number(0, 1_000_000), "0", 0.0),
    ),
)
RATES = FileKind(
    "rates.csv",
    "a price of ours at a branch, from one day to another",
    (
        must("branch", CODE),
        must("kind", member(RateKind)),
        must("amount", AMOUNT),
        must("currency", CURRENCY),
        must("from_on", DAY),
        TO_ON,
        Column("what", CODE, "none; machine hour and material litre need it", ""),
    ),
)
