import shutil
from pathlib import Path

import pytest
import typer.main

from floorcare.faces.cli.record_commands import record
from tests.faces.cli.folders import TODAY_TEXT, make_folder
from tests.faces.cli.terminal import everything_in, floorcare, rows_of

NOW = ("--today", TODAY_TEXT)
EXPORT = (
    "Point of reading;Measured at;60° (GU)\n"
    "MARKET/LANE/P1;13/11/2026 21:40;45,2\n"
    "MARKET/LANE/P2;13/11/2026 21:41;44,1\n"
)


def export(tmp_path, text=EXPORT, name="e.csv"):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def counter(tmp_path, days=20):
    rows = "".join(f"Mast,2026-10-{day:02d},{900 + day}\n" for day in range(1, days + 1))
    return export(tmp_path, "Sensor,Date,Visitors\n" + rows, "c.csv")


@pytest.fixture
def loaded(tmp_path, new_database):
    """The two sites, loaded and not planned."""
    floorcare("load", make_folder(tmp_path / "care"), *NOW)
    return new_database


def test_an_export_is_understood_asked_about_answered_and_read(tmp_path, loaded):
    path, mapping = export(tmp_path), tmp_path / "m.toml"
    before = everything_in(loaded)
    asked = floorcare("record", "reading", path, "--save-mapping", mapping, *NOW)
    assert (asked.code, asked.out) == (3, "")
    assert "e.csv, row 1: no column is known to hold the place" in asked.err
    assert "in which state" in asked.err
    assert everything_in(loaded) == before
    text = mapping.read_text(encoding="utf-8")
    for key, answer in (("place", "Point of reading"), ("state", "after burnish")):
        (line,) = [each for each in text.splitlines() if each.startswith(f"# {key} =")]
        text = text.replace(line, f'{key} = "{answer}"')
    mapping.write_text(text, encoding="utf-8")
    read = floorcare("record", "reading", path, "--mapping", mapping, *NOW)
    assert (read.code, read.err) == (0, "")
    assert "2 rows read; 2 readings written" in read.out
    assert "last " in read.out


STATE = '[fixed]\nstate = "after burnish"\n[columns]\nplace = "Point of reading"\n'


def told(tmp_path, text=STATE, name="t.toml"):
    return ("--mapping", export(tmp_path, text, name))


def test_the_same_export_read_twice_writes_nothing(tmp_path, loaded):
    path = export(tmp_path)
    assert floorcare("record", "reading", path, *told(tmp_path), *NOW).code == 0
    before = everything_in(loaded)
    again = floorcare("record", "reading", path, *told(tmp_path), *NOW)
    assert (again.code, "2 known already" in again.out) == (0, True)
    assert everything_in(loaded) == before


def test_looking_writes_nothing(tmp_path, loaded):
    before = everything_in(loaded)
    looked = floorcare("record", "reading", export(tmp_path), *told(tmp_path), "--check", *NOW)
    assert (looked.code, "2 readings would be written" in looked.out) == (0, True)
    assert everything_in(loaded) == before


def test_an_exports_answer_is_json_when_asked(tmp_path, loaded):
    said = floorcare("record", "reading", export(tmp_path), *told(tmp_path), "--json", *NOW)
    assert (said.json["written"], said.json["known"], said.json["findings"]) == (2, 0, [])
    assert said.json["rounds"][0]["zone"] == "MARKET/LANE"
    assert said.json["mapping"]["table"] == {"decimal": ",", "date_order": "day first"}
    asked = floorcare("record", "reading", export(tmp_path), "--json", *NOW)
    assert (asked.code, asked.json["written"]) == (3, 0)
    assert {q["key"] for q in asked.json["questions"]} == {"place", "state"}
    assert rows_of(loaded)["reading"] == 18


def test_a_bad_row_is_told_and_the_rest_is_taken(tmp_path, loaded):
    path = export(tmp_path, EXPORT + "MARKET/LANE/P1;14/11/2026 21:40;nan\n")
    read = floorcare("record", "reading", path, *told(tmp_path), *NOW)
    assert (read.code, "2 readings written" in read.out) == (1, True)
    assert "e.csv, row 4, column 60° (GU): there is no value" in read.err


def test_a_folder_loaded_again_after_an_export_changes_nothing(tmp_path, loaded):
    floorcare("record", "reading", export(tmp_path), *told(tmp_path), *NOW)
    floorcare("record", "traffic", counter(tmp_path), *sensors(tmp_path), *NOW)
    before = everything_in(loaded)
    again = floorcare("load", tmp_path / "care", *NOW)
    assert (again.code, "nothing changed" in again.out) == (0, True)
    assert everything_in(loaded) == before


ROUND = ("record", "reading", "--zone", "MARKET/LANE", "--on", "2026-11-20")
SAID = ("--state", "after burnish", "--geometry", 60, "--reader", "ANNA")


def test_a_round_typed_by_hand_shows_the_last_only_after_it_is_written(loaded):
    looked = floorcare(*ROUND, *SAID, "45.9", "44,3", "--check", *NOW)
    assert ("46.6" in looked.out, "last" in looked.out) == (False, False)
    written = floorcare(*ROUND, *SAID, "45.9", "44,3", *NOW)
    assert written.code == 0
    assert written.out.startswith("2 readings of MARKET/LANE written.")
    assert "last 46.6 GU on 12 October 2026; now 45.1 GU on 20 November 2026" in written.out
    assert "Expected that day" in written.out
    assert written.out.index("written") < written.out.index("last")


def test_a_round_typed_twice_is_known_and_another_value_wants_sure(loaded):
    floorcare(*ROUND, *SAID, "45.9", "44.3", *NOW)
    assert "2 known already" in floorcare(*ROUND, *SAID, "45.9", "44.3", *NOW).out
    asked = floorcare(*ROUND, *SAID, "45.9", "43.3", *NOW)
    assert (asked.code, "--sure" in asked.err) == (1, True)
    sure = floorcare(*ROUND, *SAID, "45.9", "43.3", "--sure", "--json", *NOW)
    assert (sure.code, sure.json["recorded"]["written"]) == (0, 1)
    assert rows_of(loaded)["reading"] == 18


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        ((*ROUND, *SAID, "45.9"), 3, "wants 2 values, one a station (P1, P2)"),
        ((*ROUND, "--geometry", 60, "45.9", "44.3"), 3, "In which state"),
        ((*ROUND, "--state", "wet", "45.9", "44.3"), 3, "--geometry 20, 60 or 85"),
        ((*ROUND, *SAID, "459", "44.3"), 3, "Write 45.9 if so"),
        ((*ROUND, *SAID, "nan", "44.3"), 3, "there is no value"),
        ((*ROUND, *SAID, "--at", "25:00", "45.9", "44.3"), 3, "no time of day"),
        (("record", "reading", "--zone", "MARKET/LNAE", *SAID, "4", "4"), 4, '"MARKET/LANE" if'),
        (("record", "reading", "45.9", "44.3"), 3, "--zone SITE/ZONE"),
        (("record", "reading", "none.csv"), 3, "no such file"),
        ((*ROUND, *SAID, "--mapping", "m.toml", "4", "4"), 3, "are of an export"),
        (("record", "traffic", "--zone", "MARKET/LANE", "--kind", "foot", "5"), 3, "--from"),
        (("record", "traffic", "--zone", "MARKET", "--from", "2026-11-01", "5"), 3, "is no zone"),
    ],
)
def test_what_cannot_be_understood_is_told_with_its_mend(loaded, words, code, says):
    before = everything_in(loaded)
    answer = floorcare(*words, *NOW)
    assert (answer.code, says in answer.err) == (code, True), answer.err
    assert everything_in(loaded) == before


def sensors(tmp_path):
    return told(tmp_path, '[sensors]\nMast = "MARKET/LANE"\n', "s.toml")


def test_a_counters_export_becomes_counted_traffic(tmp_path, loaded):
    asked = floorcare("record", "traffic", counter(tmp_path), *NOW)
    assert (asked.code, "under [sensors] of the mapping" in asked.err) == (3, True)
    read = floorcare("record", "traffic", counter(tmp_path), *sensors(tmp_path), *NOW)
    assert (read.code, read.err) == (0, "")
    assert "20 rows read, 20 counted days averaged; 1 row of traffic written." in read.out
    assert "MARKET/LANE foot: 910.5 a day, counted, 1 October 2026 to 20 October 2026" in read.out
    assert "ended" in read.out
    before = everything_in(loaded)
    again = floorcare("record", "traffic", counter(tmp_path), *sensors(tmp_path), "--json", *NOW)
    assert (again.code, again.json["written"], again.json["known"]) == (0, 0, 1)
    assert everything_in(loaded) == before


def test_a_doubtful_count_is_saved_as_a_question_to_fill_in(tmp_path, loaded):
    path = counter(tmp_path)
    text = path.read_text(encoding="utf-8").replace(",907\n", ",0\n")
    path.write_text(text, encoding="utf-8")
    saved = tmp_path / "saved.toml"
    words = ("record", "traffic", path, "--save-mapping", saved)
    before = everything_in(loaded)
    asked = floorcare(*words, *sensors(tmp_path), *NOW)
    assert (asked.code, "c.csv, row 8" in asked.err) == (3, True)
    assert everything_in(loaded) == before
    mapping = saved.read_text(encoding="utf-8").replace("# zero_days", "zero_days")
    saved.write_text(mapping.replace('"take"', '"leave out"', 1), encoding="utf-8")
    read = floorcare("record", "traffic", path, "--mapping", saved, *NOW)
    assert "19 counted days averaged" in read.out


def test_a_figure_typed_by_hand_is_written(loaded):
    words = ("record", "traffic", "--zone", "MARKET/EDGE", "--from", "2026-11-01", "--kind", "foot")
    written = floorcare(*words, "--estimated", "1,850.5", *NOW)
    assert (written.code, written.err) == (0, "")
    assert "MARKET/EDGE foot: 1,850.5 a day, estimated, from 1 November 2026 on" in written.out
    assert "stands already" in floorcare(*words, "--estimated", "1850.5", *NOW).out


def test_help_names_both_without_a_database():
    helped = floorcare("record", "--help")
    assert (helped.code, "reading" in helped.out, "traffic" in helped.out) == (0, True, True)


@pytest.mark.parametrize("name", ["reading", "traffic"])
def test_every_option_is_explained(name):
    page = Path(__file__).parents[3] / "docs" / "commands.md"
    _, heading, rest = page.read_text(encoding="utf-8").partition(f"\n## floorcare record {name}\n")
    section = rest.split("\n## ", 1)[0]
    assert heading
    known = typer.main.get_command(record).commands[name]
    options = [o for p in known.params for o in (*p.opts, *p.secondary_opts) if o.startswith("-")]
    assert [option for option in options if f"`{option}`" not in section] == []


@pytest.mark.parametrize(
    ("name", "command", "says"),
    [
        ("meter_round", "reading", "30 readings written"),
        ("counter_november", "traffic", "2 rows of traffic written"),
    ],
)
def test_the_samples_exports_come_in_by_their_mappings_and_only_once(
    tmp_path, sample_database, name, command, says
):
    exports = Path(__file__).parents[3] / "sample_sites" / "exports"
    words = ("record", command, exports / f"{name}.csv", "--mapping", exports / f"{name}.toml")
    words = (*words, "--db", sample_database, "--today", "2026-11-23")
    assert says in floorcare(*words).out
    before = everything_in(sample_database)
    assert "known already" in floorcare(*words).out
    assert everything_in(sample_database) == before
    folder = exports.parent
    floorcare("load", folder, "--db", sample_database, "--today", "2026-11-23")
    assert everything_in(sample_database) == before


@pytest.fixture(scope="module")
def sample_once(tmp_path_factory):
    """The sample, loaded and not planned."""
    database = tmp_path_factory.mktemp("sample") / "sample.db"
    folder = Path(__file__).parents[3] / "sample_sites"
    floorcare("load", folder, "--db", database, "--today", "2026-11-23")
    return database


@pytest.fixture
def sample_database(sample_once, tmp_path):
    return Path(shutil.copy(sample_once, tmp_path / "sample.db"))
