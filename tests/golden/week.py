"""The invented week of crews that the golden week sheets are made from."""

from datetime import date

from floorcare.services.week_sheet import CrewNightSheet, StopSheet, UnfittedNote, WeekSheet

MONDAY, TUESDAY, THURSDAY = date(2026, 3, 2), date(2026, 3, 3), date(2026, 3, 5)
PEOPLE = {
    "L": ("Larch", ("Mara Quill", "Tom Reed")),
    "B": ("Birch", ("Ida Finch", "Sam Oake")),
    "R": ("Rowan", ("Noor Vale", "Paul Amsel", "Eva Lind")),
}


def stop(site: str, name: str, on: date, starts: int, ends: int, **more: object) -> StopSheet:
    own = {
        "uuid": f"6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f{starts:04d}",
        "night": on,
        "planned_minute": starts,
        "travel_minutes": 20,
        "people": 2,
        "state": "proposed, may still move",
        "stands": False,
        "works": ("burnish LANE",),
        **more,
    }
    return StopSheet(
        site=site,
        site_name=name,
        starts_minute=starts,
        ends_minute=ends,
        **own,  # type: ignore[arg-type]
    )


def out(
    crew: str, on: date, *stops: StopSheet, leaves: int | None = None, home: int | None = None
) -> CrewNightSheet:
    name, workers = PEOPLE[crew]
    return CrewNightSheet(
        crew=crew,
        name=name,
        on=on,
        people=len(workers),
        workers=workers,
        starts_minute=1290 if crew != "R" else 1080,
        ends_minute=1770 if crew != "R" else 1560,
        leaves_minute=leaves,
        home_minute=home,
        stops=stops,
    )


HELD = {"state": "held, agreed", "stands": True}
MONDAY_MARKET = stop(
    "MARKET", "Market Hall East", MONDAY, 1320, 1515,
    works=("recoat LANE-1, LANE-2", "reading round EDGE"),
    machines=("Scrubber R-SC1", "Burnisher R-BU1"), **HELD,
)  # fmt: skip
MONDAY_CLINIC = stop(
    "CLINIC", "Harbour Clinic", MONDAY, 1540, 1690, works=("burnish CORRIDOR",),
    machines=("Burnisher R-BU1",), travel_minutes=15,
)  # fmt: skip
MONDAY_MUSEUM = stop(
    "MUSEUM", "Museum of Tides", MONDAY, 1120, 1275, works=("fine burnish FOYER, STAIR",),
    machines=("Burnisher R-BU3",), travel_minutes=25, people=3, planned_minute=1140, **HELD,
)  # fmt: skip
MONDAY_DEPOT = stop(
    "DEPOT", "Parcel Depot South", MONDAY, 1330, 1640, works=("deep scrub SORTING",),
    machines=("Scrubber R-SC2",), site_clock="21:10 to 02:20", travel_minutes=35,
)  # fmt: skip
TUESDAY_COLLEGE = stop(
    "COLLEGE", "Eastholm College", TUESDAY, 1315, 1610, works=("re-polish AULA",),
    machines=("Three-head polisher R-PP1", "HEPA vacuum R-HV1"), travel_minutes=22,
)  # fmt: skip
TUESDAY_MUSEUM = stop(
    "MUSEUM", "Museum of Tides", TUESDAY, 1110, 1180, works=("slip test RAMP",), people=1,
)  # fmt: skip

WEEK_SHEET = WeekSheet(
    starts_on=MONDAY,
    contractor="",
    branch="Riverside",
    branch_code="RIVER",
    placed=6,
    crews=(("B", "Birch"), ("L", "Larch"), ("R", "Rowan")),
    nights=(
        out("B", MONDAY, MONDAY_DEPOT, leaves=1295, home=1675),
        out("L", MONDAY, MONDAY_MARKET, MONDAY_CLINIC, leaves=1300, home=1715),
        out("R", MONDAY, MONDAY_MUSEUM, leaves=1095, home=1300),
        out("B", TUESDAY, TUESDAY_COLLEGE, leaves=1293, home=1632),
        out("L", TUESDAY),
        out("R", TUESDAY, TUESDAY_MUSEUM, leaves=1090, home=1200),
        out("L", date(2026, 3, 6)),
    ),
    unfitted=(
        UnfittedNote(
            uuid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c09",
            site="COLLEGE",
            site_name="Eastholm College",
            night=TUESDAY,
            works=("re-polish GYM",),
            why="no three-head polisher is free on Tue 3 March: R-PP1 is with Birch",
            mend="a second three-head polisher on Tue 3 March",
        ),
        UnfittedNote(
            uuid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c10",
            site="CLINIC",
            site_name="Harbour Clinic",
            night=THURSDAY,
            works=("recoat WARD-2",),
            why="Tom Reed's 'hygiene training' expired on 3 March 2026",
            mend="renew 'hygiene training' for Tom Reed",
        ),
    ),
    notes=(
        "No machine is entered of these kinds, so they are not checked: wet vacuum.",
        "Our standing rounds at MARKET run besides; no crew is named for them and their time is "
        "not taken off any shift.",
    ),
    as_of="the plan of 26 February 2026",
)
