import datetime as dt

import pytest

from floorcare.errors import NotUnderstood
from floorcare.faces.intake.care import read_care

TODAY = dt.date(2026, 11, 24)
SURFACES = frozenset({"polished_concrete"})
SHEET = "site,what,every,last done about,minutes\nMarket hall,clean,daily,2026-11-01,60\n"


def read(path, **more):
    return read_care(path, surfaces=SURFACES, today=TODAY, **more)


def test_an_empty_folder_is_not_understood_and_the_files_are_named(tmp_path):
    with pytest.raises(NotUnderstood, match=r"branches\.csv.*five-column sheet") as caught:
        read(tmp_path)
    assert caught.value.where == str(tmp_path)


def test_a_path_that_is_not_there_is_not_understood(tmp_path):
    for path in (tmp_path / "nowhere", tmp_path / ("n" * 5000), tmp_path / "a\x00b"):
        with pytest.raises(NotUnderstood, match="no such file"):
            read(path)


def test_a_file_of_another_kind_is_not_understood(tmp_path):
    path = tmp_path / "floors.pdf"
    path.write_bytes(b"%PDF-1.7")
    with pytest.raises(NotUnderstood, match="no CSV or XLSX file"):
        read(path)


def test_a_folder_of_several_unknown_tables_is_not_understood(desk):
    desk.write("one.csv", SHEET)
    desk.write("two.csv", SHEET)
    with pytest.raises(NotUnderstood, match="known by its name"):
        read(desk.path)


def test_one_file_of_a_folder_is_not_understood_alone(folder):
    with pytest.raises(NotUnderstood, match="name the folder"):
        read(folder.path / "zones.csv")


@pytest.mark.parametrize("name", ["floors.csv", "floors.CSV", "floors.txt", "sites.csv"])
def test_a_sheet_is_read_by_its_path_whatever_its_name(desk, name):
    assert read(desk.write(name, SHEET)).kind == "sheet"


@pytest.mark.parametrize("name", ["floors.csv", "sites.csv", "routines.csv"])
def test_a_folder_with_one_sheet_is_read_as_that_sheet(desk, name):
    desk.write(name, SHEET)
    desk.write("read me.md", "hello")
    desk.write(".hidden.csv", "hello")
    assert read(desk.path).kind == "sheet"


def test_a_folder_with_one_file_of_a_folder_says_what_is_missing(desk):
    desk.write(
        "routines.csv", "site,zone,work,every,starts_on,performer\nA,B,clean,daily,2026,us\n"
    )
    taken = read(desk.path)
    assert taken.kind == "folder"
    assert {f.file for f in taken.findings if f.problem == "the file is missing"} == {
        "branches.csv",
        "sites.csv",
        "zones.csv",
    }


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_a_sheet_may_come_in_any_of_the_usual_encodings(desk, encoding):
    text = SHEET.replace("Market hall", "Markthalle Süd").replace(",", ";")
    taken = read(desk.write("floors.csv", text.encode(encoding)))
    assert taken.portfolio.books[0].site.name == "Markthalle Süd"


def test_a_sheet_that_is_no_text_is_a_finding(desk):
    taken = read(desk.write("floors.csv", b"\x00\x01\x02"))
    assert taken.stops
    assert taken.rows == 0


def test_progress_of_a_sheet_ends_at_its_rows(desk):
    told = []
    read(desk.write("floors.csv", SHEET), tell=lambda done, total: told.append((done, total)))
    assert told == [(1, 1)]


def test_codes_of_machines_and_materials_are_checked_where_they_are_known(full):
    unchecked = read_care(full.path, surfaces=SURFACES | {"terrazzo"}, today=TODAY)
    assert unchecked.findings == ()
    checked = read_care(
        full.path,
        surfaces=SURFACES,
        today=TODAY,
        machine_kinds=frozenset({"polisher"}),
        materials=frozenset({"wax"}),
    )
    assert [(f.file, f.column, f.allowed) for f in checked.findings] == [
        ("machines.csv", "kind", "polisher"),
        ("stock.csv", "material", "wax"),
        ("supplies.csv", "material", "wax"),
    ]
