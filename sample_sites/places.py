"""The invented contractor: branches, customers, sites and zones, as plain tables.

Nothing here is real: no firm, no building, no town. Coordinates only put a site somewhere
plausible. Areas are in m², footfall in weighted passes a day.
"""
# ruff: noqa: E501 - a table of zones is read one zone a line

from dataclasses import dataclass, replace
from datetime import date

AS_OF = date(2026, 11, 23)
"""The day the sample ends on, a Monday."""
CARE_FROM = date(2024, 11, 25)
"""The day its care began, two years before."""

BRANCHES = (
    # branch, name, time_zone, country, region, latitude, longitude, crews, crew_size,
    # shift_minutes, nights, reserve_share, units, currency
    (
        "TARNHILL",
        "Tarn Hill branch",
        "America/Denver",
        "US",
        "CO",
        39.61,
        -104.88,
        2,
        2,
        420,
        "Mo-Sa",
        0.12,
        "US",
        "USD",
    ),
    (
        "FLOHRTAL",
        "Betrieb Flohrtal",
        "Europe/Berlin",
        "DE",
        "BY",
        48.94,
        11.42,
        2,
        2,
        360,
        "Mo-Fr",
        0.12,
        "metric",
        "EUR",
    ),
)

CUSTOMERS = (
    ("ORRIN-MARKETS", "Orrin Gap Market Trust"),
    ("SALLOW-GLASS", "Sallow Creek Museum Society"),
    ("ORRIN-TRANSIT", "Orrin Gap Transit Board"),
    ("TARN-COLLEGE", "Tarn Hill College"),
    ("VELDRANO-BOOKS", "Veldrano Library District"),
    ("FLOHR-PAKET", "Paketwerk Oberflohr"),
    ("KALTENWIED", "Kliniken Kaltenwied"),
    ("HESSELMARK", "Flughafen Hesselmark"),
    ("GRAUENRIED", "Grauenrieder Verwaltung"),
    ("LOHBLICK", "Lichtspiele Lohblick"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class InventedSite:
    """A site, its hours and what its week looks like.

    windows : (nights, from, to, permits) rows.
    week : footfall of Monday to Sunday, any scale.
    shut : (from, to, why) rows; nobody walks there and nothing is burnished.
    term_ends : last day of its contract.
    """

    code: str
    customer: str
    name: str
    branch: str
    address: str
    latitude: float
    longitude: float
    holidays: str
    notice_days: int
    access_note: str
    windows: tuple[tuple[str, str, str, str], ...]
    week: tuple[float, ...]
    shut: tuple[tuple[date, date, str], ...] = ()
    term_ends: date = date(2027, 11, 30)


ALL_WORK = "loud, wet, dust"
SITES = (
    InventedSite(
        code="MARKETHALL", customer="ORRIN-MARKETS", name="Orrin Gap Market Hall",
        branch="TARNHILL", address="4 Granary Row, Orrin Gap", latitude=39.74, longitude=-105.02,
        holidays="shut", notice_days=7, access_note="Keys at the loading dock office",
        windows=(("Mo-Sa", "22:00", "05:00", ALL_WORK),),
        week=(0.7, 0.8, 0.9, 1.0, 1.2, 1.5, 0.9),
    ),
    InventedSite(
        code="MUSEUM", customer="SALLOW-GLASS", name="Sallow Creek Museum of Glass",
        branch="TARNHILL", address="81 Kiln Street, Sallow Creek", latitude=39.55, longitude=-104.76,
        holidays="shut", notice_days=14, access_note="No dust on weeknights: showcases are open",
        windows=(
            ("Tu-Fr", "18:30", "23:30", "loud, wet"),
            ("Sa,Su", "18:00", "02:00", ALL_WORK),
        ),
        week=(0.1, 0.8, 0.9, 0.9, 1.1, 1.7, 1.5),
    ),
    InventedSite(
        code="CONCOURSE", customer="ORRIN-TRANSIT", name="Orrin Gap Rail Concourse",
        branch="TARNHILL", address="1 Depot Plaza, Orrin Gap", latitude=39.75, longitude=-105.00,
        holidays="worked", notice_days=10,
        access_note="Open all day and night: worked in sections, one half stays open",
        windows=(("daily", "01:00", "05:00", ALL_WORK),),
        week=(1.2, 1.2, 1.2, 1.2, 1.3, 0.6, 0.5),
    ),
    InventedSite(
        code="COLLEGE", customer="TARN-COLLEGE", name="Tarn Hill College, Main Building",
        branch="TARNHILL", address="200 Upper Tarn Road, Tarn Hill", latitude=39.66,
        longitude=-104.93, holidays="shut", notice_days=7, access_note="",
        windows=(
            ("Mo-Fr", "21:00", "05:00", ALL_WORK),
            ("Sa", "08:00", "18:00", ALL_WORK),
        ),
        week=(1.3, 1.4, 1.4, 1.3, 1.0, 0.3, 0.2),
        shut=(
            (date(2024, 12, 23), date(2025, 1, 1), "year-end closure"),
            (date(2025, 12, 22), date(2026, 1, 1), "year-end closure"),
            (date(2026, 12, 24), date(2027, 1, 1), "year-end closure"),
        ),
    ),
    InventedSite(
        code="LIBRARY", customer="VELDRANO-BOOKS", name="Veldrano Library",
        branch="TARNHILL", address="17 Linden Loop, Veldrano", latitude=39.58, longitude=-105.09,
        holidays="shut", notice_days=7, access_note="Weekends only",
        windows=(("Sa,Su", "19:00", "04:00", ALL_WORK),),
        week=(1.1, 1.1, 1.2, 1.1, 1.0, 1.3, 0.2),
        term_ends=date(2027, 2, 28),
    ),
    InventedSite(
        code="PAKETDEPOT", customer="FLOHR-PAKET", name="Paketdepot Oberflohr",
        branch="FLOHRTAL", address="Am Gleisdreieck 9, Oberflohr", latitude=48.99, longitude=11.37,
        holidays="shut", notice_days=5, access_note="Between the shifts; vests and helmets",
        windows=(
            ("Mo-Fr", "10:30", "16:00", "loud, wet, dust, fuel machine"),
            ("Sa", "12:00", "22:00", "loud, wet, dust, fuel machine"),
        ),
        week=(1.3, 1.3, 1.2, 1.2, 1.2, 0.6, 0.1),
    ),
    InventedSite(
        code="KLINIK", customer="KALTENWIED", name="Klinik Kaltenwied",
        branch="FLOHRTAL", address="Wiedenweg 22, Kaltenwied", latitude=48.87, longitude=11.55,
        holidays="shut", notice_days=7, access_note="Quiet after 22:30: no machines that are loud",
        windows=(
            ("Mo-Fr", "18:00", "22:30", ALL_WORK),
            ("daily", "22:30", "04:00", "wet"),
        ),
        week=(1.2, 1.2, 1.2, 1.2, 1.1, 0.6, 0.6),
    ),
    InventedSite(
        code="TERMINAL", customer="HESSELMARK", name="Regionalflughafen Hesselmark",
        branch="FLOHRTAL", address="Rollfeld 1, Hesselmark", latitude=49.06, longitude=11.49,
        holidays="worked", notice_days=14, access_note="Badges for everybody, 48 h ahead",
        windows=(("daily", "22:30", "04:30", ALL_WORK),),
        week=(1.1, 0.9, 0.9, 1.0, 1.2, 1.0, 1.1),
    ),
    InventedSite(
        code="GRAUENHOF", customer="GRAUENRIED", name="Grauenhof, Atrium",
        branch="FLOHRTAL", address="Grauenhof 3-7, Grauenried", latitude=48.91, longitude=11.40,
        holidays="shut", notice_days=7, access_note="No dust: the tenants' air handling runs all night",
        windows=(("Mo-Fr", "20:00", "05:00", "loud, wet"),),
        week=(1.3, 1.4, 1.4, 1.3, 1.1, 0.3, 0.2),
    ),
    InventedSite(
        code="KINO", customer="LOHBLICK", name="Lichtspiele Lohblick, Foyer",
        branch="FLOHRTAL", address="Lohgasse 14, Grauenried", latitude=48.92, longitude=11.41,
        holidays="worked", notice_days=3, access_note="After the last show",
        windows=(("Mo-Th", "01:00", "08:00", ALL_WORK),),
        week=(0.6, 0.8, 0.6, 0.9, 1.3, 1.6, 1.2),
        shut=((date(2027, 2, 11), date(2027, 2, 21), "film week"),),
    ),
)  # fmt: skip


OUR_ROUNDS = ("MARKETHALL", "CONCOURSE", "MUSEUM", "TERMINAL", "KLINIK", "GRAUENHOF")
"""Sites where the routine burnish is ours; elsewhere the site team does it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InventedZone:
    """A zone and how it is looked after.

    passes : true weighted passes a day on average, 0 to draw them from the traffic level.
    kinds : (kind of traffic, share of the weighted passes).
    counts : "monthly", "quarterly" or "" for a zone nobody counts in.
    read : "twice a quarter", "monthly" or "" for a zone nobody reads in.
    burnish : the rhythm of its routine burnish in words, "" for none.
    policy : "gentlest", "as agreed", or "" for a zone whose look is not promised.
    fresh_on : the true day it was last polished before its care.
    opening, polished_on, about_days : what the contractor knows of that.
    closed : (first, last) day of a refurbishment.
    surface : code of the surface file.
    """

    site: str
    area: str
    code: str
    name: str
    exposure: str
    area_m2: int
    traffic: str
    passes: float = 0.0
    kinds: tuple[tuple[str, float], ...] = (("foot", 1.0),)
    counts: str = ""
    read: str = "twice a quarter"
    stations: int = 5
    burnish: str = "twice a week"
    policy: str = "gentlest"
    confidence: float = 0.75
    place: str = "level"
    from_on: date = CARE_FROM
    fresh_on: date = CARE_FROM
    opening: str = "fresh"
    polished_on: date | None = None
    about_days: int = 0
    poured_on: date | None = None
    closed: tuple[date, date] | None = None
    surface: str = "polished_concrete"

    @property
    def by(self) -> str:
        """Who does its routine burnish."""
        return "us" if self.site in OUR_ROUNDS else "site team"

    @property
    def proof(self) -> str:
        """What proves its routine burnish."""
        return "confirmed" if self.by == "us" else "reported"

    @property
    def key(self) -> str:
        """SITE/ZONE."""
        return f"{self.site}/{self.code}"


AREAS = (
    ("MARKETHALL", "AISLES", "Market aisles"),
    ("MARKETHALL", "DOORS", "Entrances"),
    ("MARKETHALL", "FOOD", "Food hall"),
    ("MUSEUM", "FOYER", "Foyer"),
    ("MUSEUM", "GALLERIES", "Galleries"),
    ("MUSEUM", "STORE", "Show store"),
    ("CONCOURSE", "MAIN", "Main concourse"),
    ("CONCOURSE", "GATES", "Gate line"),
    ("CONCOURSE", "SHOPS", "Shop passage"),
    ("COLLEGE", "HALL", "Great hall"),
    ("COLLEGE", "LABS", "Laboratory wing"),
    ("COLLEGE", "COMMONS", "Commons"),
    ("LIBRARY", "READING", "Reading room"),
    ("LIBRARY", "LOBBY", "Lobby"),
    ("LIBRARY", "STACKS", "Open stacks"),
    ("PAKETDEPOT", "SORT", "Sorting hall"),
    ("PAKETDEPOT", "DOCK", "Loading dock"),
    ("PAKETDEPOT", "OFFICE", "Office corridor"),
    ("KLINIK", "FOYER", "Foyer"),
    ("KLINIK", "WARDS", "Ward corridors"),
    ("KLINIK", "CANTEEN", "Canteen"),
    ("KLINIK", "OLD-WING", "Old wing"),
    ("KLINIK", "TREATMENT", "Treatment floor"),
    ("TERMINAL", "CHECKIN", "Check-in hall"),
    ("TERMINAL", "PIER", "Pier"),
    ("TERMINAL", "ARRIVALS", "Arrivals"),
    ("GRAUENHOF", "ATRIUM", "Atrium"),
    ("GRAUENHOF", "TOWERS", "Tower lobbies"),
    ("GRAUENHOF", "MARBLE", "Marble lobby"),
    ("KINO", "FOYER", "Foyer"),
    ("KINO", "BAR", "Bar"),
)

_DOCK = (("foot", 0.1), ("pallet truck", 0.5), ("lift truck", 0.4))
_SORT = (("foot", 0.2), ("trolley", 0.5), ("pallet truck", 0.3))


def _of(site: str, *zones: InventedZone) -> tuple[InventedZone, ...]:
    return tuple(replace(zone, site=site) for zone in zones)


def _z(
    area: str, code: str, name: str, exposure: str, area_m2: int, traffic: str, **more: object
) -> InventedZone:
    return InventedZone(
        site="", area=area, code=code, name=name, exposure=exposure, area_m2=area_m2,
        traffic=traffic, **more,  # type: ignore[arg-type]
    )  # fmt: skip


ZONES: tuple[InventedZone, ...] = (
    *_of(
        "MARKETHALL",
        _z("AISLES", "NORTH-LANE", "North aisle", "lane", 160, "heavy", counts="monthly", confidence=0.9),
        _z("AISLES", "SOUTH-LANE", "South aisle", "lane", 155, "heavy", counts="quarterly"),
        _z("AISLES", "CROSS-LANE", "Cross aisle", "lane", 90, "heavy", read="monthly", counts="monthly"),
        _z("AISLES", "STALL-EDGE", "Edges along the stalls", "edge", 420, "moderate"),
        _z("DOORS", "EAST-DOOR", "East entrance", "entrance", 60, "extreme", counts="monthly", read="monthly"),
        _z("DOORS", "WEST-DOOR", "West entrance", "entrance", 48, "extreme", counts="quarterly"),
        _z("FOOD", "FOOD-LANE", "Food hall lane", "lane", 140, "heavy"),
    ),
    *_of(
        "MUSEUM",
        _z("FOYER", "FOYER-LANE", "Foyer, ticket desk to stairs", "lane", 120, "heavy", counts="monthly", burnish="Tu,Fr"),
        _z("FOYER", "FOYER-DOOR", "Foyer entrance", "entrance", 54, "heavy", counts="monthly", burnish="Tu,Fr", stations=3),
        _z("GALLERIES", "EAST-GALLERY", "East gallery", "lane", 140, "moderate", counts="monthly", burnish="Tu,Fr", closed=(date(2025, 9, 8), date(2025, 10, 19))),
        _z("GALLERIES", "WEST-GALLERY", "West gallery", "lane", 135, "moderate", burnish="Fr"),
        _z("GALLERIES", "GALLERY-EDGE", "Gallery edges under the showcases", "edge", 610, "light", burnish="", stations=3),
        _z("STORE", "STORE-EDGE", "Show store", "edge", 140, "light", burnish="", read="", policy="as agreed"),
    ),
    *_of(
        "CONCOURSE",
        _z("MAIN", "MAIN-NORTH", "Main concourse, north lane", "lane", 110, "extreme", counts="monthly", read="monthly", confidence=0.9),
        _z("MAIN", "MAIN-SOUTH", "Main concourse, south lane", "lane", 105, "extreme", counts="monthly", confidence=0.9),
        _z("MAIN", "MAIN-EDGE", "Main concourse, edges", "edge", 540, "moderate"),
        _z("GATES", "GATE-LANE", "Gate line", "lane", 80, "extreme", counts="monthly", read="monthly", passes=5200),
        _z("GATES", "GATE-EDGE", "Behind the gate line", "edge", 260, "moderate", counts="quarterly", stations=3),
        _z("MAIN", "PLAZA-DOOR", "Plaza entrance", "entrance", 70, "extreme", counts="quarterly", opening="dates known", fresh_on=date(2024, 9, 10), polished_on=date(2024, 9, 10)),
        _z("MAIN", "RAMP", "Ramp to the platforms", "entrance", 85, "heavy", place="ramp", counts="quarterly"),
        _z("SHOPS", "SHOP-LANE", "Shop passage", "lane", 130, "heavy", opening="dates about", fresh_on=date(2024, 5, 3), polished_on=date(2024, 5, 20), about_days=30),
    ),
    *_of(
        "COLLEGE",
        _z("HALL", "HALL-LANE", "Great hall, lane", "lane", 300, "heavy", counts="quarterly", burnish="weekly", policy="as agreed"),
        _z("HALL", "HALL-EDGE", "Great hall, edges", "edge", 480, "moderate", burnish="weekly", stations=3),
        _z("LABS", "LAB-LANE", "Laboratory corridor", "lane", 180, "moderate", burnish="weekly"),
        _z("LABS", "LAB-EDGE", "Laboratory fringes", "edge", 220, "light", burnish="", read="", policy=""),
        _z("COMMONS", "COMMONS-LANE", "Commons, lane", "lane", 260, "heavy", counts="quarterly", burnish="weekly", policy="as agreed"),
        _z("COMMONS", "COMMONS-DOOR", "Commons entrance", "entrance", 60, "heavy", counts="monthly", burnish="weekly"),
        _z("LABS", "WORKSHOP", "Workshop lane", "lane", 150, "moderate", burnish="", read="", policy="as agreed"),
    ),
    *_of(
        "LIBRARY",
        _z("READING", "READING-LANE", "Reading room lane", "lane", 240, "moderate", burnish="weekly"),
        _z("READING", "READING-EDGE", "Reading room edges", "edge", 520, "light", burnish="", read="", policy=""),
        _z("LOBBY", "LOBBY-LANE", "Lobby", "lane", 110, "heavy", counts="monthly", burnish="weekly", opening="dates known", fresh_on=date(2024, 8, 19), polished_on=date(2024, 8, 19)),
        _z("LOBBY", "LOBBY-DOOR", "Lobby entrance", "entrance", 42, "heavy", counts="monthly", burnish="weekly", stations=3),
        _z("STACKS", "STACKS-LANE", "Open stacks, lanes", "lane", 380, "light", burnish="", read="", policy="as agreed"),
    ),
    *_of(
        "PAKETDEPOT",
        _z("SORT", "SORT-LANE", "Sorting hall, driving lane", "lane", 180, "heavy", kinds=_SORT, counts="quarterly", read="monthly"),
        _z("SORT", "SORT-EDGE", "Sorting hall, edges", "edge", 850, "moderate", kinds=_SORT),
        _z("DOCK", "DOCK-LANE", "Loading dock lane", "lane", 120, "extreme", kinds=_DOCK, counts="monthly", passes=4600),
        _z("DOCK", "DOCK-DOOR", "Dock gates", "entrance", 90, "extreme", kinds=_DOCK, counts="quarterly", passes=4400),
        _z("OFFICE", "OFFICE-LANE", "Office corridor", "lane", 75, "light", burnish="", read="", policy=""),
        _z("DOCK", "CAGE-LANE", "Cage park", "lane", 170, "heavy", kinds=_SORT, read="", burnish="weekly", policy="as agreed"),
    ),
    *_of(
        "KLINIK",
        _z("FOYER", "FOYER-LANE", "Foyer", "lane", 150, "heavy", counts="quarterly", read="monthly", confidence=0.9),
        _z("FOYER", "MAIN-DOOR", "Main entrance", "entrance", 50, "heavy", counts="quarterly", confidence=0.9),
        _z("WARDS", "WARD-LANE", "Ward corridor", "lane", 340, "moderate", counts="quarterly"),
        _z("WARDS", "WARD-EDGE", "Ward bays", "edge", 280, "light", burnish="weekly", stations=3),
        _z("WARDS", "AMBULANCE", "Ambulance entry", "entrance", 95, "heavy", kinds=(("foot", 0.6), ("trolley", 0.4)), burnish="weekly"),
        _z("CANTEEN", "CANTEEN", "Canteen", "lane", 115, "moderate", burnish="weekly", read="", policy="as agreed"),
        _z("OLD-WING", "OLD-HALL", "Old wing, hall", "lane", 165, "moderate", surface="terrazzo", counts="quarterly", burnish="weekly"),
        _z("OLD-WING", "OLD-STAIRS", "Old wing, stair landings", "edge", 70, "light", surface="terrazzo", burnish="weekly", stations=3),
        _z("TREATMENT", "TREAT-LANE", "Treatment corridor", "lane", 210, "moderate", surface="coated_resilient", counts="quarterly", burnish="weekly"),
        _z("TREATMENT", "TREAT-ROOMS", "Treatment rooms", "edge", 320, "light", surface="coated_resilient", burnish="", stations=3),
    ),
    *_of(
        "TERMINAL",
        _z("CHECKIN", "CHECKIN-LANE", "Check-in, queue lane", "lane", 160, "heavy", counts="monthly", confidence=0.9),
        _z("CHECKIN", "CHECKIN-EDGE", "Check-in, edges", "edge", 700, "moderate", counts="quarterly"),
        _z("CHECKIN", "SECURITY", "Security lane", "lane", 100, "extreme", counts="monthly", read="monthly"),
        _z("PIER", "PIER-LANE", "Pier lane", "lane", 150, "heavy", counts="quarterly", opening="dates about", fresh_on=date(2024, 6, 28), polished_on=date(2024, 6, 15), about_days=21),
        _z("PIER", "PIER-EDGE", "Pier edges", "edge", 360, "moderate", stations=3),
        _z("ARRIVALS", "ARRIVALS-LANE", "Arrivals lane", "lane", 130, "heavy", counts="quarterly"),
        _z("ARRIVALS", "ARRIVALS-DOOR", "Arrivals doors", "entrance", 64, "extreme", counts="quarterly"),
        _z("PIER", "PIER-NEW", "New pier head", "lane", 260, "light", read="", burnish="", policy="as agreed", from_on=date(2026, 11, 9), fresh_on=date(2026, 11, 9), opening="unknown", poured_on=date(2026, 11, 6)),
    ),
    *_of(
        "GRAUENHOF",
        _z("ATRIUM", "ATRIUM-LANE", "Atrium lane", "lane", 150, "heavy", counts="quarterly", burnish="weekly"),
        _z("ATRIUM", "ATRIUM-EDGE", "Atrium edges", "edge", 430, "light", burnish="", stations=3),
        _z("TOWERS", "TOWER-A-DOOR", "Tower A, doors", "entrance", 58, "heavy", burnish="weekly"),
        _z("TOWERS", "TOWER-B-LANE", "Tower B, lobby", "lane", 140, "moderate", burnish="weekly", counts="quarterly"),
        _z("MARBLE", "MARBLE-LANE", "Marble lobby, lane", "lane", 95, "moderate", surface="natural_stone", burnish="weekly", counts="quarterly"),
        _z("MARBLE", "MARBLE-EDGE", "Marble lobby, edges", "edge", 130, "light", surface="natural_stone", burnish="", stations=3),
        _z("ATRIUM", "WEST-WING", "West wing, taken over", "lane", 145, "heavy", burnish="weekly", from_on=date(2026, 3, 2), fresh_on=date(2024, 3, 18), opening="unknown"),
    ),
    *_of(
        "KINO",
        _z("FOYER", "FOYER-LANE", "Foyer, box office to halls", "lane", 140, "heavy", counts="monthly", burnish="Tu,Fr"),
        _z("FOYER", "FOYER-EDGE", "Foyer edges", "edge", 240, "light", burnish="weekly"),
        _z("BAR", "BAR-LANE", "Along the bar", "lane", 90, "heavy", burnish="Tu,Fr"),
        _z("FOYER", "STREET-DOOR", "Street doors", "entrance", 44, "heavy", counts="monthly", burnish="Tu,Fr"),
        _z("FOYER", "STAIRS", "Stair landing", "lane", 60, "moderate", burnish="", read="", policy=""),
    ),
)  # fmt: skip

SEASONS = (
    # site, name, (month, day) from, (month, day) to, factor
    ("MARKETHALL", "grit", (11, 1), (3, 31), 1.5),
    ("COLLEGE", "grit and salt", (11, 15), (3, 15), 1.3),
)
"""What is strewn on the streets in winter and how many times the traffic then wears."""

SPRING_RECOATS = ("COLLEGE/HALL-LANE", "COLLEGE/COMMONS-LANE")
"""Zones whose contract says "recoat every spring"."""

MISSED_SINCE = {"MUSEUM/WEST-GALLERY": date(2026, 8, 31)}
"""Zones whose routine burnish is known to have stopped."""

MORE_PEOPLE = {"KLINIK/FOYER-LANE": (date(2026, 4, 1), 1.5)}
"""Zones that are walked more since a day, and how much more."""

OWN_RHYTHMS: tuple[tuple[str, str, str, date, int | None], ...] = (
    # SITE/ZONE, work, every, first time, typed person-minutes
    ("MUSEUM/STORE-EDGE", "burnish", "6 weeks", date(2025, 1, 14), 45),
    ("MUSEUM/STORE-EDGE", "recoat", "yearly", date(2025, 2, 11), None),
    ("COLLEGE/WORKSHOP", "recoat", "6 months", date(2025, 1, 9), None),
    ("COLLEGE/HALL-LANE", "re-polish", "2 years", date(2025, 7, 8), None),
    ("COLLEGE/LAB-EDGE", "recoat", "yearly", date(2025, 1, 14), None),
    ("LIBRARY/READING-EDGE", "burnish", "6 weeks", date(2025, 1, 18), 110),
    ("LIBRARY/READING-EDGE", "recoat", "yearly", date(2025, 2, 8), None),
    ("LIBRARY/STACKS-LANE", "recoat", "yearly", date(2025, 1, 25), None),
    ("PAKETDEPOT/CAGE-LANE", "recoat", "6 months", date(2025, 2, 18), None),
    ("PAKETDEPOT/CAGE-LANE", "re-polish", "2 years", date(2025, 3, 11), None),
    ("PAKETDEPOT/SORT-EDGE", "deep scrub", "quarterly", date(2025, 2, 25), 300),
    ("PAKETDEPOT/OFFICE-LANE", "recoat", "yearly", date(2025, 3, 4), None),
    ("KLINIK/CANTEEN", "recoat", "6 months", date(2025, 3, 5), None),
    ("KLINIK/CANTEEN", "re-polish", "2 years", date(2025, 3, 12), None),
    ("TERMINAL/PIER-NEW", "burnish", "2 weeks", date(2026, 11, 23), None),
    ("TERMINAL/CHECKIN-EDGE", "fine burnish", "quarterly", date(2025, 3, 4), None),
    ("KINO/STAIRS", "recoat", "6 months", date(2025, 3, 6), None),
    ("KLINIK/TREAT-ROOMS", "recoat", "6 months", date(2025, 6, 3), None),
    ("GRAUENHOF/MARBLE-EDGE", "fine burnish", "quarterly", date(2025, 3, 3), None),
)
"""What the contractor does at a rhythm of its own, dates as first done under its care."""
