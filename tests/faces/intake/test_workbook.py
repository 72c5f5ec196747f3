import datetime as dt
import zipfile

import openpyxl
import pytest

from floorcare.faces.intake import workbook
from floorcare.faces.intake.care import read_care
from floorcare.faces.intake.notes import Notes
from floorcare.faces.intake.workbook import workbook_grid
from floorcare.ground.trade.treatment import Work

TODAY = dt.date(2026, 11, 24)
SURFACES = frozenset({"polished_concrete"})
HEADING = ["Site", "What", "Every", "Last done about", "Minutes"]


def save(path, *rows, more=()):
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    for name, cells in more:
        book.create_sheet(name).append(cells)
    book.save(path)
    return path


def read(path):
    return read_care(path, surfaces=SURFACES, today=TODAY, time_zone="Europe/Berlin")


def test_a_workbook_is_read_like_a_sheet_with_dates_and_numbers_as_cells(tmp_path):
    path = save(
        tmp_path / "floors.xlsx",
        HEADING,
        ["Market hall", "polish", "every 2 years", dt.date(2025, 5, 4), 960],
        [None, None, None, None, None],
        ["Market hall", "clean", "daily", "March 2026", 60.0],
    )
    taken = read(path)
    assert not taken.stops
    assert (taken.rows, taken.files) == (2, ("floors.xlsx",))
    polish, clean = taken.portfolio.books[0].zones[0].routines
    assert (polish.work, polish.starts_on, polish.minutes) == (
        Work.REPOLISH,
        dt.date(2025, 5, 4),
        960,
    )
    assert (clean.starts_on, clean.about_days, clean.minutes) == (dt.date(2026, 3, 15), 15, 60)


def test_rows_of_a_workbook_are_numbered_as_it_shows_them(tmp_path):
    path = save(
        tmp_path / "floors.xlsx",
        [],
        HEADING,
        [],
        ["Market hall", "clean", "daily", "2026", -60],
    )
    (finding,) = [f for f in read(path).findings if f.weight == "stops"]
    assert (finding.file, finding.row, finding.column) == ("floors.xlsx", 4, "minutes")


def test_further_worksheets_are_asked_about(tmp_path):
    path = save(
        tmp_path / "floors.xlsx",
        HEADING,
        ["Market hall", "clean", "daily", "2026", 60],
        more=[("Old list", ["x"])],
    )
    taken = read(path)
    assert not taken.stops
    assert any(f.value == "Old list" for f in taken.findings)


def test_the_text_nan_and_na_are_text(tmp_path):
    path = save(tmp_path / "floors.xlsx", HEADING, ["NA", "clean", "daily", "2026", 60])
    assert read(path).portfolio.books[0].site.name == "NA"


def test_a_workbook_in_a_folder_of_its_own_is_found(tmp_path):
    save(tmp_path / "floors.xlsx", HEADING, ["A", "clean", "daily", "2026", 60])
    assert read(tmp_path).kind == "sheet"


@pytest.mark.parametrize(
    ("raw", "says"),
    [(b"no zip", "no workbook"), (b"\xd0\xcf\x11\xe0 old", "no workbook"), (b"", "no workbook")],
)
def test_what_is_no_workbook_is_a_finding(tmp_path, raw, says):
    path = tmp_path / "floors.xlsx"
    path.write_bytes(raw)
    taken = read(path)
    assert says in taken.findings[0].problem
    assert taken.stops


def test_an_archive_that_is_no_workbook_is_a_finding(tmp_path):
    path = tmp_path / "floors.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("hello.txt", "x")
    assert read(path).findings[0].problem == "the workbook is damaged"


def test_an_empty_workbook_is_a_finding(tmp_path):
    path = save(tmp_path / "floors.xlsx")
    assert read(path).findings[0].problem == "the workbook is empty"


def test_a_workbook_that_unpacks_to_too_much_is_refused_unopened(tmp_path, monkeypatch):
    path = save(tmp_path / "floors.xlsx", HEADING)
    monkeypatch.setattr(workbook, "LARGEST_UNPACKED_BYTES", 100)
    notes = Notes()
    assert workbook_grid(path, notes) is None
    assert notes.findings()[0].problem == "the workbook is too large"
