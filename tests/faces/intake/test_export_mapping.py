import tomllib

import pytest

from floorcare.errors import NotUnderstood
from floorcare.faces.intake.export_mapping import (
    SCHEMA,
    ExportMapping,
    ExportNotes,
    Question,
    mapping_text,
    read_mapping,
)


def written(tmp_path, text):
    path = tmp_path / "m.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_what_is_written_is_read_back(tmp_path):
    mapping = ExportMapping(
        "readings",
        {
            "columns": {"place": 'Lage "Halle"', "date": "Tag\\Monat"},
            "values": {"60° (GU)": 60},
            "places": {"Foyer\tnord": "NORTH/LANE/P1"},
        },
    )
    assert read_mapping(written(tmp_path, mapping_text(mapping)), "readings") == mapping


def test_open_questions_stand_in_it_as_comments_to_be_filled_in(tmp_path):
    question = Question("fixed", "state", ("after cleaning", "wet"))
    text = mapping_text(ExportMapping("readings"), [question, question])
    assert text.count('# state = "after cleaning"  # one of "after cleaning", "wet"') == 1
    answered = text.replace("# state", "state")
    read = read_mapping(written(tmp_path, answered), "readings")
    assert read.get("fixed", "state") == "after cleaning"


def test_every_table_can_be_written_and_read():
    for kind, tables in SCHEMA.items():
        mapping = ExportMapping(kind)
        for name, keys in tables.items():
            key = next(iter(keys)) if isinstance(keys, dict) else "Any heading"
            choices = keys[key] if isinstance(keys, dict) else keys
            mapping = mapping.with_(name, key, choices[0] if choices else "text")
        said = tomllib.loads(mapping_text(mapping))
        assert said.pop("kind") == kind
        assert said == mapping.tables


def test_tables_keys_and_words_nobody_knows_are_told_at_once(tmp_path):
    path = written(tmp_path, '[tabel]\n[fixed]\nunit = "GE"\nstat = "wet"\n[values]\nx = true\n')
    with pytest.raises(NotUnderstood) as wrong:
        read_mapping(path, "readings")
    told = [(f.column, f.value) for f in wrong.value.findings]
    assert told == [
        ("", "tabel"),
        ("[fixed] unit", "GE"),
        ("[fixed] stat", ""),
        ("[values] x", "True"),
    ]
    assert "state" in wrong.value.findings[2].mend


@pytest.mark.parametrize(
    ("text", "problem"),
    [("kind = ", "no TOML"), ('kind = "traffic"', "of traffic, not of readings")],
)
def test_what_is_no_mapping_of_this_kind_is_refused(tmp_path, text, problem):
    with pytest.raises(NotUnderstood, match=problem):
        read_mapping(written(tmp_path, text), "readings")


def test_a_mapping_that_is_not_there_is_told(tmp_path):
    with pytest.raises(NotUnderstood, match="cannot be opened"):
        read_mapping(tmp_path / "none.toml", "readings")


def test_a_question_stops_and_names_the_line_that_answers_it():
    notes = ExportNotes("e.csv")
    question = Question("table", "date_order", ("day first", "month first"))
    notes.ask(question, "day or month?", row=2, column="Date", value="03/04/2026")
    notes.ask(question, "day or month?", row=3)
    (first, second) = notes.findings()
    assert (first.weight, first.row, first.column, first.value) == (
        "stops",
        2,
        "Date",
        "03/04/2026",
    )
    assert 'date_order = "day first" or "month first" under [table]' in first.mend
    assert (second.row, notes.questions) == (3, [question])


def test_a_row_left_out_stops_nothing():
    notes = ExportNotes("e.csv")
    notes.leave_out(4, "there is no value")
    assert (notes.stops, notes.findings()[0].problem) == (
        False,
        "there is no value; the row is left out",
    )


def test_keys_that_are_no_bare_words_are_quoted():
    assert '"Hall B" = "SITE/ZONE/STATION"' in Question("places", "Hall B").mend


def test_the_line_of_the_mapping_stands_beside_another_mend():
    question = Question("places", "Attic")
    for mend in ("write SITE/ZONE", lambda search: "write SITE/ZONE"):
        said = question.or_else(mend)
        assert said(True) == f"write SITE/ZONE; or {question.mend}"
