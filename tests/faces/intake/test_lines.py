from floorcare.faces.intake.columns import AREAS, READINGS, ZONES
from floorcare.faces.intake.columns_contracts import TERMS
from floorcare.faces.intake.grid import grid_of
from floorcare.faces.intake.lines import lines_of
from floorcare.faces.intake.notes import Notes


def read(text, kind=AREAS):
    notes = Notes()
    lines = list(lines_of(kind, grid_of(kind.name, text, kind, notes), notes))
    return lines, notes.findings()


def test_columns_may_stand_in_any_order_and_be_spelled_freely():
    lines, findings = read("NAME, Area ,Site\nHall B,HALL,MARKET\n")
    assert findings == ()
    assert lines[0].cells == {"site": "MARKET", "area": "HALL", "name": "Hall B"}
    assert lines[0].typed("name") == "Hall B"
    assert lines[0].row == 2


def test_headings_may_hold_spaces_brackets_and_a_raised_two():
    lines, findings = read(
        "site,zone,name,surface,Area (m²),traffic\nA,B,C,polished_concrete,12,light\n", ZONES
    )
    assert findings == ()
    assert lines[0].cells["area_m2"] == 12


def test_blank_rows_are_left_out_and_still_counted():
    lines, findings = read("site,area,name\n\nA,B,C\n,,\n  ,,\nD,E,F\n")
    assert [line.row for line in lines] == [3, 6]
    assert findings == ()


def test_an_empty_cell_stands_for_the_columns_default_and_short_rows_for_empty_cells():
    lines, findings = read(
        "site,zone,taken_at,measure,value,state,reader\nA,B,2026-03-02,gloss,41,wet\n", READINGS
    )
    assert findings == ()
    assert lines[0].cells["reader"] == ""
    assert lines[0].cells["station"] == ""


def test_a_missing_column_is_one_finding_and_no_row_fits():
    lines, (finding,) = read("site,area\nA,B\nC,D\n")
    assert (finding.row, finding.column) == (1, "name")
    assert finding.problem == "the column is missing"
    assert finding.mend == 'add a column "name"'
    assert [line.fits for line in lines] == [False, False]


def test_a_column_whose_name_is_nearly_right_is_named_in_both_findings():
    _, (missing, unknown) = read("site,area,nmae\nA,B,C\n")
    assert missing.mend == 'add a column "name", or rename "nmae" if that is it'
    assert (unknown.weight, unknown.column) == ("asks", "nmae")
    assert unknown.mend == 'write "name" if that is meant'


def test_an_unknown_column_is_asked_about_and_not_read():
    lines, (finding,) = read("site,area,name,colour of the door\nA,B,C,red\n")
    assert finding.weight == "asks"
    assert lines[0].fits


def test_a_column_that_stands_twice_is_a_finding():
    _, (finding,) = read("site,area,name,Name\nA,B,C,D\n")
    assert finding.problem == "the column stands twice"


def test_an_empty_required_cell_is_a_finding():
    lines, (finding,) = read("site,area,name\nA,,C\n")
    assert (finding.column, finding.problem) == ("area", "the cell is empty")
    assert lines[0].cells["area"] is None
    assert not lines[0].fits


def test_every_bad_cell_of_a_row_is_noted():
    _, findings = read("site,area,name\nA B,C D,\x07\n")
    assert [f.column for f in findings] == ["site", "area", "name"]


def test_a_cell_under_no_heading_is_a_finding():
    _, (finding,) = read("site,area,name\nA,B,Hall B,5\n")
    assert finding.problem == "a cell stands under no heading"
    assert "quotation marks" in finding.mend
    _, (finding,) = read("site,,area,name\nA,stray,B,C\n")
    assert finding.value == "stray"


def test_empty_cells_beyond_the_heading_are_no_matter():
    _, findings = read("site,area,name,,\nA,B,C,,,,\n")
    assert findings == ()


def test_the_same_bad_text_is_noted_in_each_row():
    _, findings = read("site,area,name\nA B,C,D\nA B,E,F\n")
    assert [f.row for f in findings] == [2, 3]


def test_an_empty_cell_is_mended_in_the_columns_own_words():
    text = (
        "contract,starts_on,ends_on,our_notice_days,their_notice_days,renewal\n"
        "K-1,2025-01-01,2025-12-31,,30,option\n"
    )
    _, (finding,) = read(text, TERMS)
    assert (finding.problem, finding.column) == ("the cell is empty", "our_notice_days")
    assert finding.mend.startswith("write the days of the clause; 60 is")
