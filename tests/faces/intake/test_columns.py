from datetime import date
from pathlib import Path

import pytest

from floorcare.faces.intake.care import read_care
from floorcare.faces.intake.columns import FOLDER, SHEET, FileKind
from floorcare.faces.intake.readers import folded
from floorcare.ground.trade.treatment import Work

PAGE = (Path(__file__).parents[3] / "docs" / "folder.md").read_text(encoding="utf-8")
TODAY = date(2026, 11, 24)
SURFACES = frozenset({"polished_concrete"})


def section(kind: FileKind) -> str:
    """The part of the page about one kind of file."""
    start = "## The five-column sheet" if kind is SHEET else f"### `{kind.name}`"
    assert PAGE.count(f"\n{start}") == 1
    return PAGE.split(f"\n{start}", 1)[1].split("\n#", 1)[0]


def example(kind: FileKind) -> str:
    """The example on the page, heading and rows."""
    return section(kind).split("```csv\n", 1)[1].split("```", 1)[0]


@pytest.mark.parametrize("kind", [*FOLDER, SHEET], ids=lambda kind: kind.name)
def test_the_page_lists_every_column_with_what_empty_means_and_what_is_allowed(kind):
    written = [line for line in section(kind).splitlines() if line.startswith("| `")]
    expected = [
        f"| `{c.name}` | {'**required**' if c.required else c.empty} | {c.reader.allowed} |"
        for c in kind.columns
    ]
    assert written == expected


@pytest.mark.parametrize("kind", FOLDER, ids=lambda kind: kind.name)
def test_the_page_says_which_files_are_required(kind):
    assert section(kind).startswith(" (required)\n") is kind.required
    assert f"One row: {kind.what}." in section(kind)


def test_the_examples_on_the_page_together_make_a_right_folder(desk):
    for kind in FOLDER:
        desk.write(kind.name, example(kind))
    taken = read_care(desk.path, surfaces=SURFACES, today=TODAY)
    assert [str(f) for f in taken.findings] == []
    assert taken.rows == sum(example(kind).count("\n") - 1 for kind in FOLDER)
    assert taken.portfolio.books[0].zone("B-LANE").readings


def test_the_example_sheet_on_the_page_is_right(desk):
    taken = read_care(
        desk.write("floors.csv", example(SHEET)),
        surfaces=SURFACES,
        today=TODAY,
        time_zone="Europe/Berlin",
    )
    assert not taken.stops
    assert taken.rows == 3


def test_the_page_names_every_work():
    for work in Work:
        assert f"`{work.value}`" in PAGE


@pytest.mark.parametrize("kind", [*FOLDER, SHEET], ids=lambda kind: kind.name)
def test_no_two_columns_of_a_file_share_a_heading(kind):
    headings = [folded(name) for c in kind.columns for name in (c.name, *c.also)]
    assert len(headings) == len(set(headings))


@pytest.mark.parametrize("kind", [*FOLDER, SHEET], ids=lambda kind: kind.name)
def test_what_an_optional_column_says_of_empty_is_what_its_reader_makes_of_it(kind):
    for column in kind.columns:
        if column.required or column.default in (None, "", (), False):
            continue
        assert column.reader.read(column.empty, ".") == column.default
