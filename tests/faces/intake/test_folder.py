import datetime as dt
import random

import pytest

from floorcare.errors import NotUnderstood
from floorcare.faces.intake.columns import FOLDER
from floorcare.faces.intake.folder import read_folder
from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.reading import Measure, SurfaceState
from floorcare.ground.trade.treatment import Work

SURFACES = frozenset({"polished_concrete"})
TODAY = dt.date(2026, 11, 24)


def test_a_right_folder_gives_a_whole_portfolio_and_nothing_to_ask(folder):
    taken = folder.read()
    assert [str(f) for f in taken.findings] == []
    assert not taken.stops
    assert taken.kind == "folder"
    names = {path.name for path in folder.path.iterdir()}
    assert taken.files == tuple(kind.name for kind in FOLDER if kind.name in names)
    assert taken.rows == 14
    (book,) = taken.portfolio.books
    assert book.site.code == "MARKET"
    assert book.site.branch_on(TODAY) == "NORTH"
    assert [area.name for area in book.areas] == ["Hall B"]
    assert [z.zone.code for z in book.zones] == ["EDGE", "LANE"]
    lane = book.zone("LANE")
    (reading,) = lane.readings
    assert (reading.measure, reading.geometry_deg, reading.value) == (Measure.GLOSS, 60, 41.2)
    assert (reading.taken_on, reading.taken_minute) == (dt.date(2026, 3, 2), 21 * 60 + 40)
    assert reading.state is SurfaceState.AFTER_BURNISH
    assert lane.done[0].known is DateKnown.ABOUT
    assert lane.done[0].about_days == 15
    assert lane.traffic[0].per_day == 2150
    assert lane.promises[0].reference_gu == 52
    assert [z.routines[0].work for z in book.zones] == [Work.CLEAN, Work.CLEAN]


def test_a_folder_may_hold_every_file_there_is(full):
    taken = full.read()
    assert [str(f) for f in taken.findings] == []
    assert taken.files == tuple(kind.name for kind in FOLDER)


def test_reading_the_same_folder_twice_gives_the_same(folder):
    assert folder.read() == folder.read()


def test_the_three_required_files_are_enough(folder):
    folder.drop(
        "customers.csv",
        "access_windows.csv",
        "shut_days.csv",
        "areas.csv",
        "stations.csv",
        "traffic.csv",
        "readings.csv",
        "treatments_done.csv",
        "routines.csv",
        "promises.csv",
    )
    taken = folder.read()
    assert [f.weight for f in taken.findings] == ["asks"]
    assert taken.portfolio.customers[0].name == "HARBOUR"
    assert [area.code for area in taken.portfolio.books[0].areas] == ["HALL"]


@pytest.mark.parametrize("name", ["branches.csv", "sites.csv", "zones.csv"])
def test_a_missing_required_file_is_one_finding_without_followers(folder, name):
    folder.drop(name)
    finding = folder.one()
    assert (finding.file, finding.problem) == (name, "the file is missing")


def test_a_required_file_without_rows_is_one_finding_without_followers(folder):
    folder.write("zones.csv", "site,zone,name,surface,area_m2,traffic\n\n,,,,,\n")
    finding = folder.one()
    assert (finding.file, finding.problem) == ("zones.csv", "there is no row")


def test_with_anything_that_stops_the_portfolio_is_empty(folder):
    folder.change("zones.csv", "80.5", "-80.5")
    taken = folder.read()
    assert taken.stops
    assert taken.portfolio.books == ()
    assert taken.portfolio.branches == ()


def test_problems_of_all_files_are_told_together_in_the_order_of_files_and_rows(folder):
    folder.change("branches.csv", "Europe/Berlin", "Europe/Berln")
    folder.change("zones.csv", "420,heavy", "-420,hvy")
    folder.change("readings.csv", "41.2", "412")
    found = folder.findings()
    assert [(f.file, f.row, f.column) for f in found] == [
        ("branches.csv", 2, "time_zone"),
        ("zones.csv", 2, "area_m2"),
        ("zones.csv", 2, "traffic"),
        ("readings.csv", 2, "value"),
    ]


def test_a_row_with_another_problem_still_answers_for_its_code(folder):
    folder.change("sites.csv", "Europe/Berlin", "Mars/Olympus")
    assert folder.one().column == "time_zone"


def test_a_file_of_an_unknown_name_is_asked_about(folder):
    folder.drop("routines.csv")
    folder.write("routine.csv", "site\n")
    folder.write("notes.txt", "not a table")
    finding = folder.one()
    assert (finding.weight, finding.file) == ("asks", "routine.csv")
    assert finding.mend == 'write "routines.csv" if that is meant'


def test_file_names_may_be_in_capitals(folder):
    (folder.path / "readings.csv").rename(folder.path / "Readings.CSV")
    assert len(folder.read().portfolio.books[0].zone("LANE").readings) == 1


def test_a_folder_that_cannot_be_named_is_not_understood(tmp_path):
    with pytest.raises(NotUnderstood, match=r"readings\.csv"):
        read_folder(tmp_path, surfaces=SURFACES, today=TODAY)
    with pytest.raises(NotUnderstood, match="cannot be opened"):
        read_folder(tmp_path / "nowhere", surfaces=SURFACES, today=TODAY)


def test_progress_is_told_and_ends_at_the_total(folder):
    rows = "".join(
        f"MARKET,EDGE,,2026-{month:02}-{day:02} {hour:02}:00,gloss,40,after cleaning\n"
        for month in range(1, 11)
        for day in range(1, 29)
        for hour in range(24)
    )
    folder.write("readings.csv", "site,zone,station,taken_at,measure,value,state\n" + rows)
    told = []
    taken = read_folder(
        folder.path,
        surfaces=SURFACES,
        today=TODAY,
        tell=lambda done, total: told.append((done, total)),
    )
    assert not taken.stops
    assert len(told) == 2
    assert told[0][0] < told[-1][0] == told[-1][1]


def test_two_hundred_findings_of_a_file_are_shown_and_the_rest_counted(folder):
    folder.add("readings.csv", *["MARKET,LANE,P1,2026-03-02,gloss,many,wet"] * 250)
    found = folder.findings()
    assert len(found) == 201
    assert found[-1].problem == "and 50 more problems in this file"
    assert found[-1].weight == "stops"


def test_formula_looking_cells_are_taken_as_the_text_they_are(folder):
    folder.change("areas.csv", "Hall B", "=1+1")
    assert folder.read().portfolio.books[0].areas[0].name == "=1+1"


def test_care_begins_with_the_first_day_recorded_where_from_on_is_empty(folder):
    folder.write(
        "zones.csv",
        "site,zone,name,surface,area_m2,traffic\n"
        "MARKET,LANE,Main lane,polished_concrete,420,heavy\n"
        "MARKET,NEW,New,polished_concrete,10,light\n",
    )
    folder.change("routines.csv", "MARKET,,", "MARKET,LANE,")
    book = folder.read().portfolio.books[0]
    assert book.zone("LANE").zone.starts_on == dt.date(2025, 1, 1)
    assert book.zone("NEW").zone.starts_on == TODAY


SCRAWLS = (
    *(b"\x00", b'"', b",", b";", b"\t", b"\n", b"\r", b"\xff", b"\xe9", b" ", b"-", b"%"),
    *(b"9" * 400, b"1,234", b"1e999", b"nan", b"=1+1", "\u0663".encode(), b"\xef\xbb\xbf"),
    *(b"2026-13-45", b"9999-12-31", b"0001-01-01", b"FREQ=WEEKLY;BYDAY=", b"every "),
)


@pytest.mark.parametrize("seed", range(120))
def test_whatever_is_scrawled_into_the_files_every_problem_is_told_with_its_mend(full, seed):
    folder = full
    pen = random.Random(seed)
    names = sorted(path.name for path in folder.path.iterdir())
    for name in pen.sample(names, 5):
        raw = bytearray((folder.path / name).read_bytes())
        for _ in range(3):
            at = pen.randrange(len(raw) + 1)
            raw[at : at + pen.choice((0, 1, 8))] = pen.choice(SCRAWLS)
        folder.write(name, bytes(raw))
    taken = folder.read()
    assert taken.stops or taken.portfolio.books
    assert [str(f) for f in taken.findings if not f.mend] == []
