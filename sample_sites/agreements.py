"""What was agreed with the invented customers: people there, requirements, contracts, calls.

Nobody here is real: addresses lie under example.org, telephone numbers in the range 555-01xx that
is kept for inventions.
"""
# ruff: noqa: E501 - a table is read one row a line

from collections.abc import Iterator
from datetime import date
from typing import Any
from uuid import UUID, uuid5

from places import BRANCHES, CARE_FROM, SEASONS, SITES

Rows = tuple[tuple[Any, ...], ...]

CONTACTS: Rows = (
    # contact, customer, name, site, role, email, phone
    ("K-VERA", "ORRIN-MARKETS", "Vera C.", "MARKETHALL", "facility manager", "vera@example.org", "303-555-0111"),
    ("K-HUGO", "ORRIN-MARKETS", "Hugo J.", "", "treasurer", "hugo@example.org", "303-555-0112"),
    ("K-LENA", "SALLOW-GLASS", "Lena Q.", "MUSEUM", "conservator", "lena@example.org", "303-555-0121"),
    ("K-OWEN", "ORRIN-TRANSIT", "Owen R.", "CONCOURSE", "station manager", "owen@example.org", "303-555-0131"),
    ("K-FAY", "TARN-COLLEGE", "Fay S.", "COLLEGE", "facility manager", "fay@example.org", "303-555-0141"),
    ("K-BEN", "VELDRANO-BOOKS", "Ben U.", "LIBRARY", "head librarian", "ben@example.org", "303-555-0151"),
    ("K-KURT", "FLOHR-PAKET", "Kurt E.", "PAKETDEPOT", "Schichtleiter", "kurt@example.org", ""),
    ("K-ILSE", "KALTENWIED", "Ilse G.", "KLINIK", "Hauswirtschaft", "ilse@example.org", ""),
    ("K-PHIL", "KALTENWIED", "Phil H.", "KLINIK", "Hygiene", "phil@example.org", ""),
    ("K-NORA", "HESSELMARK", "Nora B.", "TERMINAL", "Terminaldienst", "nora@example.org", ""),
    ("K-JENS", "GRAUENRIED", "Jens F.", "GRAUENHOF", "Verwalter", "jens@example.org", ""),
    ("K-UTE", "LOHBLICK", "Ute M.", "KINO", "Theaterleitung", "ute@example.org", ""),
)  # fmt: skip

REQUIREMENTS: Rows = (
    # site, kind, name, each_worker, expires_on
    ("MUSEUM", "induction", "museum induction", "yes", ""),
    ("CONCOURSE", "induction", "track-side induction", "yes", ""),
    ("CONCOURSE", "insurance", "liability insurance", "no", date(2027, 6, 30)),
    ("PAKETDEPOT", "induction", "depot safety induction", "yes", ""),
    ("KLINIK", "certificate", "hygiene training", "yes", ""),
    ("TERMINAL", "certificate", "airside badge", "yes", ""),
    ("TERMINAL", "permit", "airside works permit", "no", date(2027, 1, 31)),
    ("GRAUENHOF", "permit", "night work permit", "no", date(2026, 12, 2)),
)

NOTICE = {"LIBRARY": (90, 60, "option", date(2029, 2, 28)), "TERMINAL": (120, 120, "tender", "")}
NOTICE_ELSEWHERE = (60, 60, "automatic", "")
"""Days of our notice and of theirs, what follows, and the cap on the whole."""
MONTHLY = {
    "MARKETHALL": "6400.00", "MUSEUM": "3150.00", "CONCOURSE": "8900.00", "COLLEGE": "4700.00",
    "LIBRARY": "2600.00", "PAKETDEPOT": "5200.00", "KLINIK": "6800.00", "TERMINAL": "7900.00",
    "GRAUENHOF": "3300.00", "KINO": "2100.00",
}  # fmt: skip
EXTRA_FEES: Rows = (
    # contract, starts_on, kind, amount, site, work
    ("C-MARKETHALL", CARE_FROM, "per work", "1480.00", "MARKETHALL", "re-polish"),
    ("C-COLLEGE", CARE_FROM, "per work", "620.00", "COLLEGE", "recoat"),
    ("C-TERMINAL", CARE_FROM, "by result", "900.00", "TERMINAL", ""),
    ("C-KINO", CARE_FROM, "per visit", "140.00", "KINO", ""),
)
EXCLUSIONS: Rows = (
    # contract, site, from_on, to_on, cause, zone, evidence
    (
        "C-MUSEUM", "MUSEUM", date(2025, 9, 8), date(2025, 10, 19),
        "refurbishment of the gallery", "EAST-GALLERY", "the museum's letter of 25 August 2025",
    ),
)  # fmt: skip
CALLS: Rows = (
    # site, zone, kind, received_at, reported_by, text, spot_m2, closed_at
    ("MARKETHALL", "FOOD-LANE", "stain", "2026-05-12 08:20", "Vera C.", "Oil from a fryer beside the third stall", 1.5, "2026-05-13 02:40"),
    ("LIBRARY", "LOBBY-LANE", "damage", "2026-08-03 10:05", "Ben U.", "Long scratch from a book trolley", 0.8, "2026-08-16 00:30"),
    ("KINO", "BAR-LANE", "spill", "2026-09-25 23:10", "Ute M.", "Syrup under the counter, sticky and dull", 2, "2026-09-28 04:15"),
    ("CONCOURSE", "RAMP", "slip", "2026-11-09 07:45", "Owen R.", "Somebody slid on the ramp in the rain, nobody hurt", "", "2026-11-11 22:05"),
    ("KLINIK", "FOYER-LANE", "stain", "2026-11-20 14:30", "Ilse G.", "Iodine by the information desk", 0.5, ""),
)  # fmt: skip
CALL_NAMES = UUID("5a3c1c0e-7d0b-4f0e-9a52-0d6f7c2b9e11")


def _contracts() -> Iterator[tuple[Any, ...]]:
    currency = {row[0]: row[-1] for row in BRANCHES}
    for site in SITES:
        yield f"C-{site.code}", site.customer, f"Floor care, {site.name}", currency[site.branch]


def _terms() -> Iterator[tuple[Any, ...]]:
    for site in SITES:
        ours, theirs, renewal, cap = NOTICE.get(site.code, NOTICE_ELSEWHERE)
        yield f"C-{site.code}", CARE_FROM, site.term_ends, ours, theirs, renewal, cap


def _fees() -> Iterator[tuple[Any, ...]]:
    for site in SITES:
        yield f"C-{site.code}", CARE_FROM, "fixed monthly", MONTHLY[site.code], "", ""
    yield from EXTRA_FEES


def _seasons() -> Iterator[tuple[Any, ...]]:
    for site, name, first, last, factor in SEASONS:
        yield site, name, "{:02d}-{:02d}".format(*first), "{:02d}-{:02d}".format(*last), factor


def _calls() -> Iterator[tuple[Any, ...]]:
    for call in CALLS:
        yield uuid5(CALL_NAMES, f"{call[0]} {call[3]}"), *call


TABLES = {
    "contacts.csv": ("contact,customer,name,site,role,email,phone", CONTACTS),
    "requirements.csv": ("site,kind,name,each_worker,expires_on", REQUIREMENTS),
    "seasons.csv": ("site,name,from,to,factor", tuple(_seasons())),
    "contracts.csv": ("contract,customer,name,currency", tuple(_contracts())),
    "terms.csv": (
        "contract,starts_on,ends_on,our_notice_days,their_notice_days,renewal,cap_on",
        tuple(_terms()),
    ),
    "fees.csv": ("contract,starts_on,kind,amount,site,work", tuple(_fees())),
    "exclusions.csv": ("contract,site,from_on,to_on,cause,zone,evidence", EXCLUSIONS),
    "calls.csv": (
        "call,site,zone,kind,received_at,reported_by,text,spot_m2,closed_at",
        tuple(_calls()),
    ),
}
