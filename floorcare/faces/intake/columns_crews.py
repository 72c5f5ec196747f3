"""The files about people of ours: workers, crews, shifts, and who uses the program."""

from floorcare.faces.intake.column import MAY, MUST, TO_ON, Column, FileKind, must
from floorcare.faces.intake.readers import (
    CLOCK,
    CODE,
    DAY,
    EMAIL,
    LANGUAGES,
    NAME,
    NOTE,
    WEEKDAYS,
    member,
    whole,
)
from floorcare.ground.trade.people import Role

_SINCE = Column("from_on", DAY, "since ever")

WORKERS = FileKind(
    "workers.csv",
    "a person who goes out with a crew",
    (
        must("worker", CODE),
        must("name", NAME),
        must("branch", CODE),
        Column("languages", LANGUAGES, "en", ("en",)),
        _SINCE,
        TO_ON,
    ),
    codes=("worker",),
)
QUALIFICATIONS = FileKind(
    "qualifications.csv",
    "a certificate or training a worker holds",
    (
        must("worker", CODE),
        must("name", NAME),
        must("from_on", DAY),
        Column("expires_on", DAY, "never"),
    ),
)
ABSENCES = FileKind(
    "absences.csv",
    "days on which a worker does not come",
    (
        must("worker", CODE),
        Column("from_on", DAY, MUST, also=("from",)),
        Column("to_on", DAY, "that one day", also=("to",)),
        Column("why", NOTE, MAY, ""),
    ),
)
CREWS = FileKind(
    "crews.csv",
    "people who go out together",
    (must("crew", CODE), must("branch", CODE), must("name", NAME)),
    codes=("crew",),
)
CREW_MEMBERS = FileKind(
    "crew_members.csv",
    "a worker's time in a crew",
    (must("crew", CODE), must("worker", CODE), must("from_on", DAY), TO_ON),
)
SHIFTS = FileKind(
    "shifts.csv",
    "a crew's working time on some weekdays",
    (
        must("crew", CODE),
        must("nights", WEEKDAYS),
        must("from", CLOCK),
        must("to", CLOCK),
        Column("break_minutes", whole(0, 480, "minutes"), "0", 0),
        _SINCE,
        TO_ON,
    ),
)
PEOPLE = FileKind(
    "people.csv",
    "somebody who uses the program",
    (
        must("person", CODE),
        must("name", NAME),
        must("role", member(Role)),
        Column("email", EMAIL, MAY, ""),
        Column("worker", CODE, "no worker of ours", ""),
        Column("contact", CODE, "nobody at a customer", ""),
    ),
)
