from dataclasses import replace
from datetime import date

from floorcare.faces.documents.week_sheet_text import MOST_COLUMNS, answer, as_text
from tests.golden.week import MONDAY, WEEK_SHEET, out, stop


def nights(sheet=WEEK_SHEET):
    return [night for part in as_text(sheet)["parts"] for night in part["nights"]]


def test_the_answer_counts_what_has_a_crew_and_what_fits_none():
    assert answer(WEEK_SHEET) == "6 visits on 5 crew-nights this week; 2 fit no crew."
    assert answer(replace(WEEK_SHEET, unfitted=())).endswith("; every one has a crew.")
    one = replace(WEEK_SHEET, unfitted=WEEK_SHEET.unfitted[:1])
    assert answer(one).endswith("1 fits no crew.")
    none = replace(WEEK_SHEET, placed=0, nights=())
    assert answer(none) == "No visit has a crew this week; 2 fit no crew."


def test_every_moment_of_a_night_is_a_row_in_order_of_time():
    monday = nights()[0]
    assert [moment["time"] for moment in monday["times"]] == [
        *("18:15", "18:40", "21:15", "21:35", "21:40", "22:00", "22:10"),
        *("01:15", "01:40", "03:20", "03:55", "04:10", "04:35"),
    ]
    assert [moment["day"] for moment in monday["times"] if moment["day"]] == ["Tue 3 Mar"]


def test_the_cells_of_every_column_fill_it_without_gap_or_overlap():
    for night in nights():
        for column in range(3):
            mine = [cell for cell in night["cells"] if cell["column"] == column]
            covered = [row for c in mine for row in range(c["row"], c["row"] + c["span"])]
            assert covered == list(range(len(night["times"])))


def test_a_visit_lasts_from_its_row_to_the_row_it_ends_on():
    monday = nights()[0]
    times = [moment["time"] for moment in monday["times"]]
    for cell in monday["cells"]:
        if cell["kind"] in ("visit", "moves"):
            assert times[cell["row"]] == cell["time"]
            assert times[cell["row"] + cell["span"]] == cell["until"]


def test_a_crews_night_reads_from_setting_out_to_being_back():
    larch = [cell for cell in nights()[0]["cells"] if cell["column"] == 1]
    said = [
        (c["kind"], c["time"], c.get("site") or c["said"]) for c in larch if c["kind"] != "idle"
    ]
    assert said == [
        ("drive", "21:40", "sets out, 20\xa0min drive"),
        ("visit", "22:00", "Market Hall East"),
        ("drive", "", "15\xa0min drive, 10\xa0min to spare"),
        ("moves", "01:40", "Harbour Clinic"),
        ("drive", "", "25\xa0min drive"),
        ("home", "04:35", "back"),
    ]


def test_a_crew_out_without_a_visit_and_one_not_out_are_told_apart():
    tuesday, thursday = nights()[1:]
    (idle,) = [cell for cell in tuesday["cells"] if cell["column"] == 1]
    assert (idle["kind"], idle["said"], idle["row"]) == ("idle", "no visit", 0)
    assert tuesday["columns"][1]["who"] == "Mara Quill, Tom Reed"
    assert thursday["columns"][0] == {"name": "Birch", "who": "not out", "hours": ""}


def test_footnotes_are_numbered_and_their_night_bears_the_number():
    words = as_text(WEEK_SHEET)
    assert [(night["on"], night["marks"]) for night in nights()] == [
        ("Monday 2 March 2026", []),
        ("Tuesday 3 March 2026", ["1"]),
        ("Thursday 5 March 2026", ["2"]),
    ]
    assert [note["number"] for note in words["unfitted"]] == ["1", "2"]
    assert words["unfitted"][1]["what"] == "Harbour Clinic, Thu 5 Mar"
    assert words["quiet"] == "No visits on Wed 4 Mar, Fri 6 Mar, Sat 7 Mar, Sun 8 Mar."


def test_an_agreed_visit_at_another_hour_and_another_clock_say_so():
    cells = {cell["code"]: cell for cell in nights()[0]["cells"] if "code" in cell}
    assert cells["MUSEUM"]["aside"] == "held, agreed; planned 19:00"
    assert cells["DEPOT"]["aside"].endswith("21:10 to 02:20 by the site's clock")
    assert cells["MARKET"]["aside"] == "held, agreed"


def test_more_crews_than_a_page_can_bear_are_shared_out_evenly():
    crews = tuple((f"C{n}", f"Crew {n}") for n in range(2 * MOST_COLUMNS + 1))
    night = out("L", MONDAY, stop("A", "A", MONDAY, 1320, 1400), leaves=1300, home=1420)
    sheet = replace(
        WEEK_SHEET, crews=crews, nights=tuple(replace(night, crew=code) for code, _ in crews)
    )
    parts = as_text(sheet)["parts"]
    assert [len(part["nights"][0]["columns"]) for part in parts] == [3, 3, 3]
    # what fits no crew is marked once, in the first of them
    assert [n["on"] for n in parts[0]["nights"]][1:] == [
        "Tuesday 3 March 2026",
        "Thursday 5 March 2026",
    ]
    assert len(parts[1]["nights"]) == 1


def test_on_the_night_an_hour_comes_twice_no_cell_ends_before_it_begins():
    autumn = date(2026, 11, 1)
    first = stop("A", "A", autumn, 90, 65, travel_minutes=10)  # 01:30 to 01:05, 35 minutes later
    night = replace(out("L", autumn, first), leaves_minute=80, home_minute=75)
    (shown,) = nights(replace(WEEK_SHEET, nights=(night,), unfitted=()))
    assert [cell["span"] for cell in shown["cells"] if cell["column"] == 1] == [1, 1, 1]
    assert [c["until"] for c in shown["cells"] if "until" in c] == ["01:05"]


def test_an_empty_week_says_only_that():
    words = as_text(replace(WEEK_SHEET, placed=0, nights=(), unfitted=(), notes=(), crews=()))
    assert words["answer"] == "No visits this week."
    assert (words["quiet"], words["unfitted"]) == ("", [])


def test_a_break_between_two_visits_overtime_parts_and_moves_are_said():
    first = replace(stop("MARKET", "Market", MONDAY, 1320, 1380), part="crew 1 of 2", held=True)
    second = replace(stop("CLINIC", "Clinic", MONDAY, 1440, 1500), moved_from=MONDAY)
    night = replace(
        out("L", MONDAY, first, second, leaves=1300, home=1520),
        break_minute=1380,
        break_minutes=30,
        overtime_minutes=20,
    )
    (shown,) = nights(replace(WEEK_SHEET, nights=(night,), unfitted=()))
    said = " | ".join(cell.get("said", "") or cell.get("aside", "") for cell in shown["cells"])
    said = said.replace("\N{NO-BREAK SPACE}", " ")
    assert "break of 30 min" in said
    assert "back, 20 min over" in said
    assert "crew 1 of 2; held with this crew" in said
    assert "planned on Mon 2 Mar" in said


def test_a_footnote_names_the_nearest_change_where_there_is_one():
    note = replace(WEEK_SHEET.unfitted[0], nearest="20 min more shift for Larch.")
    (told,) = as_text(replace(WEEK_SHEET, unfitted=(note,)))["unfitted"]
    assert told["mend"].replace("\N{NO-BREAK SPACE}", " ") == "20 min more shift for Larch"
