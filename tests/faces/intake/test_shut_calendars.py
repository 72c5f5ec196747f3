from datetime import date

import pytest

from floorcare.faces.intake.folder import read_folder
from floorcare.findings import Finding
from floorcare.ground.worktime.shut import ShutDay
from tests.faces.intake.conftest import TODAY

SURFACES = frozenset({"polished_concrete"})


def calendar(*events: str) -> str:
    body = "".join(
        f"BEGIN:VEVENT\r\nUID:{n}\r\nDTSTAMP:20260101T000000Z\r\n{e}END:VEVENT\r\n"
        for n, e in enumerate(events)
    )
    return f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//a customer//EN\r\n{body}END:VCALENDAR\r\n"


def whole_day(first: str, end: str, why: str = "Stocktaking") -> str:
    return f"DTSTART;VALUE=DATE:{first}\r\nDTEND;VALUE=DATE:{end}\r\nSUMMARY:{why}\r\n"


def taken(desk, text: str | bytes, name: str = "MARKET.ics") -> tuple[list, list[Finding]]:
    folder = desk.path
    (folder / "shut").mkdir(exist_ok=True)
    content = text if isinstance(text, bytes) else text.encode()
    (folder / "shut" / name).write_bytes(content)
    found = read_folder(folder, surfaces=SURFACES, today=TODAY)
    books = {book.site.code: book for book in found.portfolio.books}
    shut = list(books["MARKET"].site.shut_days) if "MARKET" in books else []
    return shut, [f for f in found.findings if f.file.startswith("shut/")]


def test_the_end_of_a_whole_day_event_is_not_shut(folder):
    shut, asked = taken(folder, calendar(whole_day("20261224", "20270102")))
    assert ShutDay(from_on=date(2026, 12, 24), to_on=date(2027, 1, 1), why="Stocktaking") in shut
    assert asked == []


def test_a_timed_event_shuts_the_days_it_touches_by_the_site_s_own_clock(folder):
    # Berlin: 22:30 UTC on 4 May is half past midnight on the 5th
    event = "DTSTART:20260504T223000Z\r\nDTEND:20260505T030000Z\r\nSUMMARY:Fire drill\r\n"
    shut, _ = taken(folder, calendar(event))
    assert ShutDay(from_on=date(2026, 5, 5), to_on=date(2026, 5, 5), why="Fire drill") in shut


def test_a_duration_counts_like_an_end_and_no_end_is_one_day(folder):
    event = "DTSTART;VALUE=DATE:20260601\r\nDURATION:P3D\r\nSUMMARY:Fair\r\n"
    alone = "DTSTART;VALUE=DATE:20260701\r\nSUMMARY:Fete\r\n"
    shut, _ = taken(folder, calendar(event, alone))
    assert ShutDay(from_on=date(2026, 6, 1), to_on=date(2026, 6, 3), why="Fair") in shut
    assert ShutDay(from_on=date(2026, 7, 1), to_on=date(2026, 7, 1), why="Fete") in shut


def test_a_called_off_event_shuts_nothing(folder):
    before, _ = taken(folder, calendar())
    after, _ = taken(folder, calendar(whole_day("20260810", "20260811") + "STATUS:CANCELLED\r\n"))
    assert after == before


@pytest.mark.parametrize(
    ("text", "name", "weight", "words"),
    [
        (
            calendar(whole_day("20260810", "20260811") + "RRULE:FREQ=YEARLY\r\n"),
            "MARKET.ics",
            "asks",
            "repeating",
        ),
        (calendar(whole_day("20260810", "20260809")), "MARKET.ics", "stops", "ends before"),
        (calendar("SUMMARY:Never\r\n"), "MARKET.ics", "stops", "no start"),
        (calendar(), "MARKT.ics", "stops", "no such site"),
        (b"\x00\x01 not a calendar", "MARKET.ics", "stops", "can be read"),
        (b"BEGIN:VCALENDAR\r\n" + b"X" * 2_000_001, "MARKET.ics", "stops", "at most"),
    ],
)
def test_what_cannot_be_taken_is_named_with_its_mend(folder, text, name, weight, words):
    _, asked = taken(folder, text, name)
    assert [f.weight for f in asked] == [weight]
    assert words in asked[0].problem
    assert asked[0].mend
    assert asked[0].file == f"shut/{name}"
