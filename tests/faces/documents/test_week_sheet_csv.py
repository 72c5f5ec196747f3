import csv
import io
from dataclasses import replace

from floorcare.faces.documents.week_sheet_csv import HEADER, NO_CREW, write_week_sheet_csv
from tests.golden.week import WEEK_SHEET


def rows(sheet=WEEK_SHEET) -> list[dict[str, str]]:
    text = write_week_sheet_csv(sheet).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_each_visit_has_a_row_with_crew_hours_and_machines():
    market = next(row for row in rows() if row["site"] == "MARKET")
    assert (market["crew"], market["workers"]) == ("L", "Mara Quill; Tom Reed")
    assert (market["shift from"], market["shift to"]) == ("2026-03-02 21:30", "2026-03-03 05:30")
    assert (market["on site"], market["leaves"]) == ("2026-03-02 22:00", "2026-03-03 01:15")
    assert market["machines"] == "Scrubber R-SC1; Burnisher R-BU1"
    assert (market["stop"], market["drive minutes"], market["back at branch"]) == ("1", "20", "")
    clinic = next(row for row in rows() if row["site"] == "CLINIC" and row["stop"])
    assert (clinic["stop"], clinic["back at branch"]) == ("2", "2026-03-03 04:35")


def test_what_fits_no_crew_has_a_row_with_why_and_mend():
    last = rows()[-1]
    assert (last["site"], last["state"], last["crew"]) == ("CLINIC", NO_CREW, "")
    assert last["visit night"] == "2026-03-05"
    assert "expired" in last["why"]
    assert "renew" in last["mend"]


def test_every_row_is_as_wide_as_the_header():
    text = write_week_sheet_csv(WEEK_SHEET).decode("utf-8-sig")
    assert {len(row) for row in csv.reader(io.StringIO(text))} == {len(HEADER)}
    assert len(rows()) == 6 + 2


def test_a_crew_without_entered_shift_leaves_its_hours_open():
    night = replace(WEEK_SHEET.nights[0], starts_minute=None, ends_minute=None, workers=())
    (row,) = rows(replace(WEEK_SHEET, nights=(night,), unfitted=()))
    assert (row["shift from"], row["shift to"], row["workers"]) == ("", "", "")
