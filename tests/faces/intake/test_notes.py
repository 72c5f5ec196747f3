from floorcare.faces.intake.notes import SEARCHED_PER_FILE, SHOWN_PER_FILE, Notes, nearest


def test_findings_come_by_file_as_met_and_by_row_within():
    notes = Notes()
    notes.add("stops", "b.csv", 9, "late")
    notes.add("asks", "a.csv", 1, "other file")
    notes.add("asks", "b.csv", 2, "early")
    assert [f.problem for f in notes.findings()] == ["early", "late", "other file"]
    assert notes.stops


def test_files_named_beforehand_come_in_that_order():
    notes = Notes(["a.csv", "b.csv"])
    for file in ("c.csv", "b.csv", "a.csv"):
        notes.add("asks", file, 1, "look")
    assert [f.file for f in notes.findings()] == ["a.csv", "b.csv", "c.csv"]


def test_questions_alone_do_not_stop():
    notes = Notes()
    notes.add("asks", "a.csv", 1, "look")
    assert not notes.stops
    assert Notes().findings() == ()


def test_what_stops_is_shown_before_what_asks_and_the_rest_is_counted():
    notes = Notes()
    for row in range(SHOWN_PER_FILE + 50):
        notes.add("asks", "a.csv", row, "look")
    notes.add("stops", "a.csv", 9999, "wrong")
    found = notes.findings()
    assert len(found) == SHOWN_PER_FILE + 1
    assert found[-2].problem == "wrong"
    assert found[-1].problem == "and 51 more problems in this file"
    assert found[-1].weight == "asks"


def test_a_mend_that_takes_work_is_not_made_for_what_is_not_shown():
    made = []
    notes = Notes()
    for row in range(SHOWN_PER_FILE + 5):
        notes.add("stops", "a.csv", row, "wrong", mend=lambda search: made.append(search) or "")
    assert len(made) == SHOWN_PER_FILE
    assert sum(made) == SEARCHED_PER_FILE
    assert notes.findings()[-1].weight == "stops"


def test_the_nearest_words_are_offered_whatever_their_case():
    assert nearest("hal-b", ["HALL-B", "QUAY"], "")(True) == 'write "HALL-B" if that is meant'
    assert nearest("x" * 100_000, ["HALL-B"], "add it")(True) == "add it"
    assert nearest("hal-b", ["HALL-B"], "add it")(False) == "add it"


def test_a_word_that_is_all_but_right_is_offered_alone():
    files = ["routines.csv", "rates.csv"]
    assert nearest("routine.csv", files, "")(True) == 'write "routines.csv" if that is meant'
    assert nearest("rtes", ["routes", "rates"], "")(True).count('"') == 4
