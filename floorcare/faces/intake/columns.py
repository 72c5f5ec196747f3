"""Every file of a folder and its columns, as data: read by the reader and by the documentation."""

from floorcare.faces.intake import columns_contracts as contracts
from floorcare.faces.intake import columns_crews as crews
from floorcare.faces.intake import columns_equipment as equipment
from floorcare.faces.intake.column import (
    ANY_ZONE,
    MAY,
    MUST,
    SITE,
    TO_ON,
    WITHDRAWN,
    ZONE,
    Column,
    FileKind,
    must,
)
from floorcare.faces.intake.dating import ABOUT_ALLOWED
from floorcare.faces.intake.readers import (
    CLOCK,
    CODE,
    CODES,
    COUNTRY,
    CURRENCY,
    DAY,
    DAY_OF_YEAR,
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

_LATITUDE = Column("latitude", number(-180, 180, allowed="-90 to 90 degrees"))
# what lies beyond is asked about by places, which knows what it was swapped with
_LONGITUDE = Column("longitude", number(-180, 180, "degrees"))
_COUNTRY = Column("country", COUNTRY, "no public holidays", "")
_REGION = Column("region", REGION, "the whole country", "")
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
    (must("customer", CODE), must("name", NAME)),
    codes=("customer",),
)
BRANCHES = FileKind(
    "branches.csv",
    "an operating base of the contractor",
    (
        must("branch", CODE),
        must("name", NAME),
        must("time_zone", TIME_ZONE),
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
        SITE,
        must("customer", CODE),
        must("name", NAME),
        must("branch", CODE),
        must("time_zone", TIME_ZONE),
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
        SITE,
        must("nights", WEEKDAYS),
        must("from", CLOCK),
        must("to", CLOCK),
        Column("permits", PERMITS_GIVEN, "loud, wet", frozenset({"loud", "wet"})),
        Column("from_on", DAY, "always"),
        TO_ON,
    ),
)
SHUT_DAYS = FileKind(
    "shut_days.csv",
    "a day or run of days on which a site may not be worked",
    (
        SITE,
        must("from_on", DAY),
        Column("to_on", DAY, "that one day"),
        must("why", NOTE),
        WITHDRAWN,
    ),
)
TRAVEL = FileKind(
    "travel.csv",
    "a drive from one place to another, as somebody measured it",
    (
        must("branch", CODE),
        Column("from", CODE, "the branch itself", ""),
        Column("to", CODE, "the branch itself", ""),
        must("minutes", Reader(whole(-1_000_000, 1_000_000).read, "whole number, 0 or more")),
        Column("km", Reader(number(-1_000_000, 1_000_000).read, "0 or more"), "by the minutes"),
    ),
)
SEASONS = FileKind(
    "seasons.csv",
    "days of every year on which traffic wears a site more",
    (
        SITE,
        must("name", NAME),
        must("from", DAY_OF_YEAR),
        must("to", DAY_OF_YEAR),
        must("factor", number(1, 10)),
    ),
)
AREAS = FileKind(
    "areas.csv",
    "what contract and customer name, such as a hall",
    (SITE, must("area", CODE), must("name", NAME)),
    codes=("area",),
)
ZONES = FileKind(
    "zones.csv",
    "part of an area with one surface and one exposure; a further row is a change from its from_on",
    (
        SITE,
        ZONE,
        must("name", NAME),
        must("surface", CODE),
        Column("area_m2", _AREA_M2, "see area_ft2"),
        Column("area_ft2", _AREA_FT2, "see area_m2"),
        must("traffic", member(TrafficLevel)),
        Column("area", CODE, "the zone's own code"),
        Column("place", one_of(PLACES), "level", "level"),
        Column("exposure", NAME, MAY, ""),
        Column("from_on", DAY, "the first day anything is recorded of it, else today"),
        TO_ON,
        Column("opening", member(Opening), "unknown, or by polished_on"),
        Column("polished_on", DAY, "unknown"),
        _ABOUT_DAYS,
        Column("poured_on", DAY, "unknown"),
        Column("parents", CODES, "none", ()),
        Column("ends_on", DAY, "see to_on"),
    ),
    required=True,
    codes=("site", "zone"),
)
MAKE_UP = FileKind(
    "make_up.csv",
    "what a zone's floor is made of, from a day on",
    (
        SITE,
        ZONE,
        must("from_on", DAY),
        Column("grit", whole(16, 20_000), "unknown"),
        Column("exposure_class", one_of(("A", "B", "C")), "unknown", ""),
        Column("densifier", NAME, "unknown", ""),
        Column("protector", NAME, "unknown", ""),
        Column("joints_m", number(0, 1_000_000, "m"), "unknown"),
        Column("edges_m", number(0, 1_000_000, "m"), "unknown"),
        Column("obstruction_share", number(0, 1, percent=True), "0", 0.0),
        Column("moisture", NOTE, "unknown", ""),
    ),
)
STATIONS = FileKind(
    "stations.csv",
    "a marked point in a zone where readings are taken",
    (SITE, ZONE, must("station", CODE), Column("note", NOTE, MAY, "")),
)
TRAFFIC = FileKind(
    "traffic.csv",
    "traffic of one kind over some days",
    (
        SITE,
        ZONE,
        must("kind", one_of(PASS_WEIGHT)),
        must("per_day", number(0, 1_000_000, "a day")),
        must("counted", YES_NO),
        must("from_on", DAY),
        TO_ON,
        WITHDRAWN,
    ),
)
READINGS = FileKind(
    "readings.csv",
    "one value read at one station, or of the zone as a whole",
    (
        SITE,
        ZONE,
        Column("station", CODE, "the zone as a whole", ""),
        must("taken_at", MOMENT),
        must("measure", member(Measure)),
        Column(
            "geometry",
            one_of(("20", "60", "85"), {"20°": "20", "60°": "60", "85°": "85"}),
            "60 for gloss",
        ),
        Column("method", NAME, "none; slip needs it", ""),
        must(
            "value", number(-1_000_000, 1_000_000, allowed="a number in the range of its measure")
        ),
        must("state", member(SurfaceState)),
        Column("instrument", NAME, MAY, ""),
        Column("reader", NAME, MAY, ""),
        Column("witness", NAME, MAY, ""),
        WITHDRAWN,
    ),
)
TREATMENTS_DONE = FileKind(
    "treatments_done.csv",
    "a treatment that was done, by us or before us",
    (
        SITE,
        ZONE,
        must("work", TREATMENT),
        must("done_on", DAY),
        Column("known", member(DateKnown), "known, or about where about_days is given"),
        _ABOUT_DAYS,
        Column("share", number(0.001, 1, percent=True), "1", 1.0),
        Column("performer", NAME, MAY, ""),
        WITHDRAWN,
    ),
)
ROUTINES = FileKind(
    "routines.csv",
    "work at a set rhythm",
    (
        SITE,
        ANY_ZONE,
        must("work", WORK),
        must("every", _EVERY),
        must("starts_on", DAY),
        must("performer", member(Performer)),
        Column("proof", member(Proof), "assumed", Proof.ASSUMED),
        Column("ends_on", DAY, "no end"),
        Column("except_on", DAYS, "none", ()),
        Column("minutes", whole(1, 100_000, "person-minutes"), "from the surface's rates"),
        Column("promised", YES_NO, "no", False),
        WITHDRAWN,
    ),
)
PROMISES = FileKind(
    "promises.csv",
    "one line of what a contract guarantees",
    (
        must("contract", CODE),
        SITE,
        ANY_ZONE,
        must("kind", member(PromiseKind)),
        must("starts_on", DAY),
        must("ends_on", DAY),
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
        WITHDRAWN,
    ),
)

FOLDER: tuple[FileKind, ...] = (
    BRANCHES,
    CUSTOMERS,
    SITES,
    ACCESS_WINDOWS,
    SHUT_DAYS,
    TRAVEL,
    SEASONS,
    contracts.REQUIREMENTS,
    contracts.CONTACTS,
    AREAS,
    ZONES,
    MAKE_UP,
    STATIONS,
    TRAFFIC,
    equipment.INSTRUMENTS,
    equipment.BRIDGES,
    READINGS,
    TREATMENTS_DONE,
    ROUTINES,
    contracts.CONTRACTS,
    contracts.TERMS,
    contracts.FEES,
    contracts.EXCLUSIONS,
    PROMISES,
    contracts.CALLS,
    crews.WORKERS,
    crews.QUALIFICATIONS,
    crews.ABSENCES,
    crews.CREWS,
    crews.CREW_MEMBERS,
    crews.SHIFTS,
    equipment.MACHINES,
    equipment.MACHINE_PLACES,
    equipment.MACHINE_OUTAGES,
    equipment.STOCK,
    equipment.SUPPLIES,
    equipment.RATES,
    crews.PEOPLE,
)
"""Every file understood, in the order they are read: what is referred to stands first."""

SHEET = FileKind(
    "the five-column sheet",
    "one work at one site: what, how often, when last",
    (
        must("site", NAME),
        Column("what", WORK, MUST, also=("work", "treatment")),
        must("every", _EVERY),
        Column(
            "last done about",
            _ABOUT,
            "not known; the first is planned from today",
            "",
            also=("last done", "last"),
        ),
        must("minutes", whole(1, 100_000, "person-minutes")),
    ),
    required=True,
)
