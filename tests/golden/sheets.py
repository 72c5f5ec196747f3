"""The invented week, condition table and calendar that the golden files are made from."""

from datetime import UTC, date, datetime

from floorcare.ground.wear.watch.alarm import Alarm, AlarmKind
from floorcare.ground.wear.watch.alarm_words import said
from floorcare.services.sheets import (
    CalendarEvent,
    CalendarSheet,
    ConditionRow,
    ConditionTable,
    ReadingPlace,
    RoutineLine,
    SheetLine,
    SheetQuantity,
    SheetStep,
    UnplacedNote,
    VisitSheet,
    WeekLists,
)

MONDAY = date(2026, 3, 2)
WEDNESDAY = date(2026, 3, 4)
FRIDAY = date(2026, 3, 6)

BURNISH = (
    SheetStep(name="dust mop", tool="microfibre mop", minutes=25),
    SheetStep(name="burnish", machine="burnisher, 700 mm", tool="white pad", minutes=75),
)
RECOAT = (
    SheetStep(name="scrub", machine="autoscrubber", tool="red pad", minutes=50, wait_minutes=30),
    SheetStep(
        name="first thin coat",
        tool="microfibre applicator",
        product="Protector G",
        minutes=40,
        wait_minutes=20,
    ),
    SheetStep(name="burnish", machine="burnisher, 700 mm", tool="white pad", minutes=60),
)
CAUTIONS = (
    "Wet floor: signs out before the first water, isolate until dry (29 CFR 1910.22).",
    "Current: plug through a GFCI, look over every cord before use.",
    "Chemicals: read the data sheet; no product below pH 7 on concrete.",
    "Noise: hearing protection at the burnisher.",
    "Lifting: two people to every machine on stairs.",
)
HALL_VISIT = VisitSheet(
    uuid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c01",
    site="MARKET",
    site_name="Market Hall East",
    address="4 Tanner Row, Eastholm",
    customer="Eastholm Markets",
    branch="Riverside",
    night=WEDNESDAY,
    starts_minute=1320,
    ends_minute=1710,
    people=2,
    state="held, agreed with the customer",
    access_window="22:00 to 05:30; wet work allowed, nothing loud after midnight",
    access_note="Ring at the north gate, ask for the night porter.",
    notice="told on 24 February, seven days ahead",
    reopening="earliest Thu 04:50, safe from Thu 05:30",
    cautions=CAUTIONS,
    zones=(
        SheetLine(
            zone="MARKET/LANE-1",
            zone_name="main lane",
            area_name="Hall B",
            work="recoat",
            area_m2=420.0,
            reason_inside=(
                "Protector coat for Hall B: gloss 47 GU on 3 March, 83 % of reference; likely to "
                "pass 80 % between 20 March and 9 April; burnishing alone would hold six days."
            ),
            person_minutes=300,
            steps=RECOAT,
            quantities=(SheetQuantity(product="Protector G", litres=4.71, estimate=True),),
            closes_minute=1325,
            starts_minute=1335,
            ends_minute=1610,
            reopens_minute=1730,
        ),
        SheetLine(
            zone="MARKET/ENTRANCE",
            zone_name="entrance",
            area_name="Hall B",
            work="burnish",
            area_m2=65.5,
            reason_inside="Burnish as promised twice a week.",
            person_minutes=100,
            steps=BURNISH,
            starts_minute=1610,
            ends_minute=1690,
        ),
    ),
)
ROUND_VISIT = VisitSheet(
    uuid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c02",
    site="MUSEUM",
    site_name="Museum of Tides",
    address="1 Quay Street, Eastholm",
    customer="Tides Trust",
    branch="Riverside",
    night=WEDNESDAY,
    starts_minute=1140,
    ends_minute=1230,
    people=1,
    state="proposed",
    stands=False,
    access_window="18:00 to 21:00",
    zones=(
        SheetLine(
            zone="MUSEUM/FOYER",
            zone_name="foyer",
            area_name="Ground level",
            work="reading round",
            area_m2=180.0,
            reason_inside="No reading since 2 December; the estimate lies near the promise.",
            person_minutes=25,
            starts_minute=1145,
            ends_minute=1170,
        ),
    ),
    reading_places=(
        ReadingPlace(zone="MUSEUM/FOYER", station="F1"),
        ReadingPlace(zone="MUSEUM/FOYER", station="F2"),
        ReadingPlace(zone="MUSEUM/FOYER", station="F3"),
    ),
)
LONG_VISIT = VisitSheet(
    uuid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c03",
    site="DEPOT",
    site_name="Parcel Depot South",
    address="Ring Road 18, Eastholm",
    customer="Ferry Parcels",
    branch="Riverside",
    night=FRIDAY,
    starts_minute=1260,
    ends_minute=1680,
    people=3,
    state="held",
    access_window="21:00 to 05:00",
    access_note="Badge from the gate house; lift trucks stand still from 22:00.",
    cautions=CAUTIONS,
    reopening="earliest Sat 04:00, safe from Sat 04:30",
    zones=tuple(
        SheetLine(
            zone=f"DEPOT/AISLE-{number}",
            zone_name=f"aisle {number}",
            area_name="Sorting hall",
            work="recoat" if number % 2 else "burnish",
            area_m2=90.0 + number,
            reason_inside=(
                f"Gloss {50 - number} GU on 12 February, {90 - number} % of reference; likely to "
                "pass 80 % before 1 April."
            ),
            person_minutes=150,
            steps=RECOAT if number % 2 else BURNISH,
            quantities=(
                (SheetQuantity(product="Protector G", litres=1.02 * number, coats=2),)
                if number % 2
                else ()
            ),
            closes_minute=1260 + 60 * (number - 1),
            starts_minute=1265 + 60 * (number - 1),
            ends_minute=1330 + 60 * (number - 1),
            reopens_minute=1390 + 60 * (number - 1),
        )
        for number in range(1, 7)
    ),
)
WEEK = WeekLists(
    starts_on=MONDAY,
    contractor="Eastholm Floor Care",
    branch="Riverside",
    as_of="the plan of 26 February 2026",
    sheets=(ROUND_VISIT, HALL_VISIT, LONG_VISIT),
    routines=(
        RoutineLine(
            site="MARKET",
            site_name="Market Hall East",
            weekdays="every day",
            work="clean",
            who="site team, confirmed by list",
        ),
        RoutineLine(
            site="MUSEUM",
            site_name="Museum of Tides",
            weekdays="Monday, Thursday",
            work="burnish",
            who="us, reported",
        ),
    ),
    unplaced=(
        UnplacedNote(
            site="CLINIC",
            zone="CLINIC/CORRIDOR",
            work="re-polish",
            why="the longest night the site allows is 3 h and the work takes 5 h 40 min",
            mend="one night from 20:00 to 02:00, or the work on two nights",
        ),
    ),
)
CONDITION = ConditionTable(
    contractor="Eastholm Floor Care",
    branch="Riverside",
    on=MONDAY,
    as_of="the plan of 26 February 2026",
    alarms=(
        said(
            Alarm(
                kind=AlarmKind.TRAFFIC,
                zones=("MARKET/LANE-1",),
                since=date(2025, 11, 1),
                expected=50.2,
                seen=46.6,
                errors=-3.8,
                strength=4.1,
            ),
            counted=True,
        ),
    ),
    rows=(
        ConditionRow(
            zone="CLINIC/CORRIDOR",
            zone_name="corridor",
            area_name="Ward 2",
            surface="polished concrete",
            area_m2=310.0,
            traffic="heavy, counted",
            evidence="measured",
            reading_gu=41.2,
            reading_on=date(2026, 2, 19),
            gloss_gu=40.4,
            low_gu=37.9,
            high_gu=43.1,
            promise_gu=42.0,
            share=0.77,
            next_work="re-polish",
            nights_to_promise="0",
            reason="Gloss 41 GU on 19 February, 78 % of reference: below the promise of 80 %.",
        ),
        ConditionRow(
            zone="MARKET/LANE-1",
            zone_name="main lane",
            area_name="Hall B",
            surface="polished concrete",
            area_m2=420.0,
            traffic="extreme, counted",
            evidence="measured",
            reading_gu=47.0,
            reading_on=date(2026, 2, 27),
            gloss_gu=46.6,
            low_gu=44.0,
            high_gu=49.4,
            promise_gu=45.2,
            share=0.825,
            next_work="recoat",
            next_night=WEDNESDAY,
            nights_to_promise="24",
            reason="Likely to pass 80 % of reference between 20 March and 9 April.",
        ),
        ConditionRow(
            zone="MUSEUM/FOYER",
            zone_name="foyer",
            area_name="Ground level",
            surface="terrazzo",
            area_m2=None,
            traffic="moderate, taken from the level",
            evidence="assumed",
            next_work="reading round",
            next_night=WEDNESDAY,
            reason="Not read yet: runs on the agreed rhythm.",
        ),
    ),
)
CALENDAR = CalendarSheet(
    name="Market Hall East",
    domain="care.example",
    revision=12,
    revised_at=datetime(2026, 2, 26, 15, 4, 5, tzinfo=UTC),
    as_of=date(2026, 2, 26),
    description="When which floor is closed for its upkeep.",
    events=(
        CalendarEvent(
            uid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c01",
            night=WEDNESDAY,
            sequence=2,
            changed_at=datetime(2026, 2, 26, 15, 4, 5, tzinfo=UTC),
            starts_at=datetime(2026, 3, 4, 21, 0, tzinfo=UTC),
            ends_at=datetime(2026, 3, 5, 3, 30, tzinfo=UTC),
            summary="Hall B closed: protector coat, burnish",
            description=(
                "A fresh protector coat, since the old one is nearly worn through.",
                "Hall B, main lane: closed 22:05, open again Thu 04:50, safe from Thu 05:30.",
                "Übergänge bleiben frei; Türen im Süden offen, Café 😀 geöffnet.",
                "Wet floor: please keep out until the signs are gone.",
            ),
            location="Market Hall East, 4 Tanner Row, Eastholm",
            latitude=52.4862,
            longitude=1.7454,
            categories=("recoat", "burnish"),
        ),
        CalendarEvent(
            uid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c04",
            night=date(2026, 4, 13),
            last_day=date(2026, 4, 15),
            sequence=0,
            changed_at=datetime(2026, 2, 20, 9, 0, tzinfo=UTC),
            summary="Hall A closed: re-polish",
            description=("Re-polish agreed for spring; last day Wednesday 15 April.",),
            proposed=True,
        ),
        CalendarEvent(
            uid="6f6f3f0e-3a5e-5c39-9a55-0d2b6a3f1c05",
            night=date(2026, 2, 25),
            sequence=3,
            changed_at=datetime(2026, 2, 24, 16, 30, tzinfo=UTC),
            starts_at=datetime(2026, 2, 25, 21, 0, tzinfo=UTC),
            ends_at=datetime(2026, 2, 25, 23, 0, tzinfo=UTC),
            summary="Hall B: burnish",
            cancelled=True,
        ),
    ),
)
