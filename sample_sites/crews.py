"""The invented contractor's people: who goes out, in which crew, when, with which papers.

Nobody here is real: a first name and an initial, addresses under example.org.
"""

from collections.abc import Iterator
from datetime import date
from typing import Any

from places import CARE_FROM

Rows = tuple[tuple[Any, ...], ...]

WORKERS: Rows = (
    # worker, name, branch, languages, from_on, to_on
    ("W-INES", "Ines V.", "TARNHILL", "en es", "", ""),
    ("W-THEO", "Theo A.", "TARNHILL", "en", "", ""),
    ("W-RAVI", "Ravi K.", "TARNHILL", "en", "", ""),
    ("W-DORA", "Dora L.", "TARNHILL", "en", "", ""),
    ("W-SAM", "Sam O.", "TARNHILL", "en", "", ""),
    ("W-NELL", "Nell P.", "TARNHILL", "es en", date(2025, 9, 1), ""),
    ("W-CURT", "Curt B.", "TARNHILL", "en", "", date(2025, 8, 29)),
    ("W-JANA", "Jana S.", "FLOHRTAL", "de", "", ""),
    ("W-LUTZ", "Lutz B.", "FLOHRTAL", "de", "", ""),
    ("W-MAREK", "Marek W.", "FLOHRTAL", "pl de", "", ""),
    ("W-PETRA", "Petra H.", "FLOHRTAL", "de", "", ""),
    ("W-OLGA", "Olga T.", "FLOHRTAL", "uk de", date(2026, 2, 2), ""),
    ("W-EMIL", "Emil R.", "FLOHRTAL", "de", date(2026, 2, 2), ""),
)

ABSENCES: Rows = (
    # worker, from_on, to_on, why
    ("W-DORA", date(2027, 2, 15), date(2027, 2, 26), "leave"),
)

CREWS: Rows = (
    # crew, branch, name
    ("T1", "TARNHILL", "Night crew"),
    ("T2", "TARNHILL", "Evening crew"),
    ("T3", "TARNHILL", "Early crew"),
    ("F1", "FLOHRTAL", "Nachttrupp"),
    ("F2", "FLOHRTAL", "Tagtrupp"),
    ("F3", "FLOHRTAL", "Frühtrupp"),
)

CREW_MEMBERS: Rows = (
    # crew, worker, from_on, to_on
    ("T1", "W-INES", CARE_FROM, ""),
    ("T1", "W-CURT", CARE_FROM, date(2025, 8, 29)),
    ("T1", "W-NELL", date(2025, 9, 1), ""),
    ("T2", "W-THEO", CARE_FROM, ""),
    ("T2", "W-DORA", CARE_FROM, ""),
    ("T3", "W-RAVI", CARE_FROM, ""),
    ("T3", "W-SAM", CARE_FROM, ""),
    ("F1", "W-JANA", CARE_FROM, ""),
    ("F1", "W-LUTZ", CARE_FROM, ""),
    ("F2", "W-MAREK", CARE_FROM, ""),
    ("F2", "W-PETRA", CARE_FROM, ""),
    ("F3", "W-OLGA", date(2026, 2, 2), ""),
    ("F3", "W-EMIL", date(2026, 2, 2), ""),
)

SHIFTS: Rows = (
    # crew, nights, from, to, break_minutes, from_on, to_on: in all two crews for each of the
    # branch's nights, and as many minutes as its record says
    ("T1", "Mo-We", "22:30", "06:00", 30, CARE_FROM, ""),
    ("T1", "Sa", "18:45", "02:15", 30, CARE_FROM, ""),
    ("T2", "Tu,Th-Sa", "17:45", "01:15", 30, CARE_FROM, ""),
    ("T3", "Mo,Th-Sa", "00:30", "08:00", 30, CARE_FROM, ""),
    ("F1", "Mo-Fr", "21:45", "04:15", 30, CARE_FROM, ""),
    ("F2", "Mo,Tu", "10:00", "16:30", 30, CARE_FROM, ""),
    ("F2", "Th", "00:45", "07:15", 30, CARE_FROM, ""),
    ("F3", "Tu,We", "17:30", "00:00", 30, date(2026, 2, 2), ""),
)

PAPERS = {
    # branch: (qualification, held from, expires)
    "TARNHILL": (
        ("museum induction", date(2024, 11, 4), ""),
        ("track-side induction", date(2026, 1, 12), date(2027, 1, 11)),
    ),
    "FLOHRTAL": (
        ("depot safety induction", date(2026, 2, 2), date(2027, 2, 1)),
        ("hygiene training", date(2026, 2, 2), date(2027, 3, 31)),
        ("airside badge", date(2026, 2, 2), date(2027, 6, 30)),
    ),
}
RUNS_OUT = {
    ("W-DORA", "museum induction"): date(2026, 11, 30),
    ("W-LUTZ", "airside badge"): date(2026, 12, 18),
}
"""Papers that run out, one of them in the first week the lists are made for."""
OWN_PAPERS: Rows = (
    ("W-INES", "first aid", date(2025, 4, 7), date(2027, 4, 6)),
    ("W-RAVI", "grinder operator", date(2023, 5, 2), ""),
    ("W-THEO", "grinder operator", date(2024, 3, 11), ""),
    ("W-JANA", "first aid", date(2025, 10, 6), date(2027, 10, 5)),
    ("W-MAREK", "propane machine operator", date(2024, 6, 3), date(2026, 6, 2)),
    ("W-MAREK", "propane machine operator", date(2026, 5, 18), date(2028, 5, 17)),
)

PEOPLE: Rows = (
    # person, name, role, email, worker, contact
    ("P-ADA", "Ada M.", "admin", "ada@example.org", "", ""),
    ("P-GIL", "Gil F.", "planner", "gil@example.org", "", ""),
    ("P-RUTH", "Ruth N.", "planner", "ruth@example.org", "", ""),
    ("P-OTTO", "Otto D.", "account", "otto@example.org", "", ""),
    ("P-INES", "Ines V.", "crew", "ines@example.org", "W-INES", ""),
    ("P-THEO", "Theo A.", "crew", "theo@example.org", "W-THEO", ""),
    ("P-RAVI", "Ravi K.", "crew", "ravi@example.org", "W-RAVI", ""),
    ("P-JANA", "Jana S.", "crew", "jana@example.org", "W-JANA", ""),
    ("P-MAREK", "Marek W.", "crew", "marek@example.org", "W-MAREK", ""),
    ("P-OLGA", "Olga T.", "crew", "olga@example.org", "W-OLGA", ""),
    ("P-VERA", "Vera C.", "customer", "vera@example.org", "", "K-VERA"),
    ("P-KURT", "Kurt E.", "customer", "kurt@example.org", "", "K-KURT"),
)


def _qualifications() -> Iterator[tuple[Any, ...]]:
    for worker, _, branch, _, joined, _ in WORKERS:
        for name, since, expires in PAPERS[branch]:
            held = max(since, joined) if joined else since
            yield worker, name, held, RUNS_OUT.get((worker, name), expires)
    yield from OWN_PAPERS


TABLES = {
    "workers.csv": ("worker,name,branch,languages,from_on,to_on", WORKERS),
    "qualifications.csv": ("worker,name,from_on,expires_on", tuple(_qualifications())),
    "absences.csv": ("worker,from_on,to_on,why", ABSENCES),
    "crews.csv": ("crew,branch,name", CREWS),
    "crew_members.csv": ("crew,worker,from_on,to_on", CREW_MEMBERS),
    "shifts.csv": ("crew,nights,from,to,break_minutes,from_on,to_on", SHIFTS),
    "people.csv": ("person,name,role,email,worker,contact", PEOPLE),
}
