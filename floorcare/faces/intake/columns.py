"""Every file of a folder and its columns, as data: read by the reader and by the documentation."""

from dataclasses import dataclass
from typing import Any

from floorcare.faces.intake.dating import ABOUT_ALLOWED
from floorcare.faces.intake.readers import (
    CLOCK,
    CODE,
    CODES,
    COUNTRY,
    CURRENCY,
    DAY,
    DAYS,
    MOMENT,
    NAME,
    NOTE,
    PERMITS_GIVEN,
    REGION,
    TIME_ZONE,
    WEEKDAYS,
    YES_NO,
    Reader,
    member,
    number,
    one_of,
    whole,
)
from floorcare.faces.intake.workwords import TREATMENT, WORK
from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.promise import (
    DEFAULT_CONFIDENCE,
    DEFAULT_LOSS_SHARE,
    Policy,
    PromiseKind,
)
from floorcare.ground.trade.reading import Measure, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.site import RESERVE_SHARE
from floorcare.ground.trade.traffic import PASS_WEIGHT, TrafficLevel
from floorcare.ground.trade.zone import Opening
from floorcare.ground.units.slip import PLACES

MUST = "required"
MAY = "empty"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, how its cells are read, and what an empty cell means.

    empty : "required", or what an empty cell means, in words.
    default : the value an empty cell stands for.
    also : other headings it is known by.
    """

    name: str
    reader: Reader
    empty: str = MAY
    default: Any = None
    also: tuple[str, ...] = ()

    @property
    def required(self) -> bool:
        """Whether the column must be there and every cell filled."""
        return self.empty == MUST


@dataclass(frozen=True, slots=True)
class FileKind:
    """One file of the folder.

    name : its name in the folder; what : what a row of it is.
    required : whether the folder must have it.
    codes : columns by whose codes rows of other files refer to it.
    """

    name: str
    what: str
    columns: tuple[Column, ...]
    required: bool = False
    codes: tuple[str, ...] = ()


def _must(name: str, reader: Reader) -> Column:
    return Column(name, reader, MUST)


_SITE = _must("site", CODE)
_ZONE = _must("zone", CODE)
_ANY_ZONE = Column("zone", CODE, "every zone of the site")
_LATITUDE = Column("latitude", number(-90, 90, "degrees"))
_LONGITUDE = Column("longitude", number(-180, 180, "degrees"))
_COUNTRY = Column("country", COUNTRY, "no public holidays", "")
_REGION = Column("region", REGION, "the whole country", "")
_TO_ON = Column("to_on", DAY, "no end")
_ABOUT_DAYS = Column("about_days", whole(0, 3650, "days"), "0", 0)
_AREA_M2 = number(0.1, 1_000_000, "m²")
_AREA_FT2 = number(1.1, 10_760_000, "ft²")
_UNITS = one_of(("metric", "US"))
_HOLIDAYS = one_of(("shut", "worked"))
_ABOUT = Reader(NOTE.read, ABOUT_ALLOWED)
_EVERY = Reader(lambda text, _: text, 'words such as "every 6 weeks", "Mo,Th", or an RFC 5545 rule')

CUSTOMERS = FileKind(
    "customers.csv",
    "who the floors belong to",
    (_must("customer", CODE), _must("name", NAME)),
    codes=("customer",),
)
BRANCHES = FileKind(
    "branches.csv",
    "an operating base of the contractor",
    (
        _must("branch", CODE),
        _must("name", NAME),
        _must("time_zone", TIME_ZONE),
        _COUNTRY,
        _REGION,
        _LATITUDE,
        _LONGITUDE,
        Column("crews", whole(0, 500), "1", 1),
        Column("crew_size", whole(1, 50, "people"), "2", 2),
        Column("shift_minutes", whole(30, 960, "minutes"), "480", 480),
        Column("nights", WEEKDAYS, "Mo-Fr", frozenset(range(5))),
        Column("reserve_share", number(0, 0.9, percent=True), f"{RESERVE_SHARE:g}", RESERVE_SHARE),
        Column("units", _UNITS, "metric", "metric"),
        Column("currency", CURRENCY, "USD", "USD"),
    ),
    required=True,
    codes=("branch",),
)
SITES = FileKind(
    "sites.csv",
    "a building or part of one under care",
    (
        _SITE,
        _must("customer", CODE),
        _must("name", NAME),
        _must("branch", CODE),
        _must("time_zone", TIME_ZONE),
        Column("branch_from_on", DAY, "since ever"),
        Column("address", NOTE, MAY, ""),
        _COUNTRY,
        _REGION,
        _LATITUDE,
        _LONGITUDE,
        Column("holidays", _HOLIDAYS, "shut", "shut"),
        Column("notice_days", whole(0, 365, "days"), "7", 7),
        Column("access_note", NOTE, MAY, ""),
    ),
    required=True,
    codes=("site",),
)
ACCESS_WINDOWS = FileKind(
    "access_windows.csv",
    "weekly hours in which a site may be worked",
    (
        _SITE,
        _must("nights", WEEKDAYS),
        _must("from", CLOCK),
        _must("to", CLOCK),
        Column("permits", PERMITS_GIVEN, "loud, wet", frozenset({"loud", "wet"})),
        Column("from_on", DAY, "always"),
        _TO_ON,
    ),
)
SHUT_DAYS = FileKind(
    "shut_days.csv",
    "a day or run of days on which a site may not be worked",
    (_SITE, _must("from_on", DAY), Column("to_on", DAY, "that one day"), _must("why", NOTE)),
)
AREAS = FileKind(
    "areas.csv",
    "what contract and customer name, such as a hall",
    (_SITE, _must("area", CODE), _must("name", NAME)),
    codes=("area",),
)
ZONES = FileKind(
    "zones.csv",
    "part of an area with one surface and one exposure; a further row is a change from its from_on",
    (
        _SITE,
        _ZONE,
        _must("name", NAME),
        _must("surface", CODE),
        Column("area_m2", _AREA_M2, "see area_ft2"),
        Column("area_ft2", _AREA_FT2, "see area_m2"),
        _must("traffic", member(TrafficLevel)),
        Column("area", CODE, "the zone's own code"),
        Column("place", one_of(PLACES), "level", "level"),
        Column("exposure", NAME, MAY, ""),
        Column("from_on", DAY, "the first day anything is recorded of it, else today"),
        _TO_ON,
        Column("opening", member(Opening), "unknown, or by polished_on"),
        Column("polished_on", DAY, "unknown"),
        _ABOUT_DAYS,
        Column("poured_on", DAY, "unknown"),
        Column("parents", CODES, "none", ()),
    ),
    required=True,
    codes=("site", "zone"),
)
STATIONS = FileKind(
    "stations.csv",
    "a marked point in a zone where readings are taken",
    (_SITE, _ZONE, _must("station", CODE), Column("note", NOTE, MAY, "")),
)
TRAFFIC = FileKind(
    "traffic.csv",
    "traffic of one kind over some days",
    (
        _SITE,
        _ZONE,
        _must("kind", one_of(PASS_WEIGHT)),
        _must("per_day", number(0, 1_000_000, "a day")),
        _must("counted", YES_NO),
        _must("from_on", DAY),
        _TO_ON,
    ),
)
READINGS = FileKind(
    "readings.csv",
    "one value read at one station, or of the zone as a whole",
    (
        _SITE,
        _ZONE,
        Column("station", CODE, "the zone as a whole", ""),
        _must("taken_at", MOMENT),
        _must("measure", member(Measure)),
        Column(
            "geometry",
            one_of(("20", "60", "85"), {"20°": "20", "60°": "60", "85°": "85"}),
            "60 for gloss",
        ),
        Column("method", NAME, "none; slip needs it", ""),
        _must(
            "value", number(-1_000_000, 1_000_000, allowed="a number in the range of its measure")
        ),
        _must("state", member(SurfaceState)),
        Column("instrument", NAME, MAY, ""),
        Column("reader", NAME, MAY, ""),
        Column("witness", NAME, MAY, ""),
    ),
)
TREATMENTS_DONE = FileKind(
    "treatments_done.csv",
    "a treatment that was done, by us or before us",
    (
        _SITE,
        _ZONE,
        _must("work", TREATMENT),
        _must("done_on", DAY),
        Column("known", member(DateKnown), "known, or about where about_days is given"),
        _ABOUT_DAYS,
        Column("share", number(0.001, 1, percent=True), "1", 1.0),
        Column("performer", NAME, MAY, ""),
    ),
)
ROUTINES = FileKind(
    "routines.csv",
    "work at a set rhythm",
    (
        _SITE,
        _ANY_ZONE,
        _must("work", WORK),
        _must("every", _EVERY),
        _must("starts_on", DAY),
        _must("performer", member(Performer)),
        Column("proof", member(Proof), "assumed", Proof.ASSUMED),
        Column("ends_on", DAY, "no end"),
        Column("except_on", DAYS, "none", ()),
        Column("minutes", whole(1, 100_000, "person-minutes"), "from the surface's rates"),
        Column("promised", YES_NO, "no", False),
    ),
)
PROMISES = FileKind(
    "promises.csv",
    "one line of what a contract guarantees",
    (
        _must("contract", CODE),
        _SITE,
        _ANY_ZONE,
        _must("kind", member(PromiseKind)),
        _must("starts_on", DAY),
        _must("ends_on", DAY),
        Column("reference_gu", number(1, 200, "GU"), "none yet"),
        Column("reference_on", DAY, "not recorded"),
        Column(
            "reference_state", member(SurfaceState), "after burnish", SurfaceState.AFTER_BURNISH
        ),
        Column(
            "loss_share",
            number(0.02, 0.9, percent=True),
            f"{DEFAULT_LOSS_SHARE:g}",
            DEFAULT_LOSS_SHARE,
        ),
        Column(
            "confidence",
            number(0.5, 0.99, percent=True),
            f"{DEFAULT_CONFIDENCE:g}",
            DEFAULT_CONFIDENCE,
        ),
        Column("policy", member(Policy), "gentlest", Policy.GENTLEST),
        Column("slip_method", NAME, "none; slip needs it", ""),
        Column("slip_limit", number(0.01, 150), "none; slip needs it"),
        Column("slip_place", one_of(PLACES), "level", "level"),
        Column("response_hours", whole(1, 8760, "hours"), "none; response needs it"),
    ),
)

FOLDER: tuple[FileKind, ...] = (
    BRANCHES,
    CUSTOMERS,
    SITES,
    ACCESS_WINDOWS,
    SHUT_DAYS,
    AREAS,
    ZONES,
    STATIONS,
    TRAFFIC,
    READINGS,
    TREATMENTS_DONE,
    ROUTINES,
    PROMISES,
)
"""Every file understood, in the order they are read: what is referred to stands first."""

SHEET = FileKind(
    "the five-column sheet",
    "one work at one site: what, how often, when last",
    (
        _must("site", NAME),
        Column("what", WORK, MUST, also=("work", "treatment")),
        _must("every", _EVERY),
        Column(
            "last done about",
            _ABOUT,
            "not known; the first is planned from today",
            "",
            also=("last done", "last"),
        ),
        _must("minutes", whole(1, 100_000, "person-minutes")),
    ),
    required=True,
)
