from dataclasses import replace

from floorcare.faces.cli.load_account import MOST_OF_A_KIND, load_account
from floorcare.faces.intake.taken import Taken
from floorcare.ground.trade.book import Portfolio
from floorcare.services.load_care import Loaded
from floorcare.store.merge import RowChange

TAKEN = Taken(
    portfolio=Portfolio(), findings=(), files=("a.csv", "b.csv"), rows=1234, kind="folder"
)
FIRST = Loaded(counts=(("readings", 1200, 0, 0), ("stations", 34, 0, 0)))


def reading(n: int, what: str, *fields: tuple[str, str, str]) -> RowChange:
    return RowChange(kind="readings", key=f"NORTH/LANE/P{n}", what=what, fields=fields)  # type: ignore[arg-type]


CHANGED = Loaded(
    counts=(
        ("readings", 1, 2, 30),
        ("stations", 0, 0, 4),
        ("traffic", 0, 0, 0),
        ("zones", 0, 1, 0),
    ),
    changes=(
        reading(3, "added"),
        reading(1, "withdrawn", ("withdrawn", "", "2026-03-02 09:30 UTC")),
        reading(2, "changed", ("value", "52", "53"), ("reader", "", "R. Vale")),
        reading(4, "outranked", ("value", "50.5", "48")),
        RowChange(
            kind="zones", key="NORTH/LANE", what="ended", fields=(("to_on", "", "2026-03-01"),)
        ),
    ),
)


def lines(loaded: Loaded | None, *, check: bool = False) -> list[str]:
    return load_account(TAKEN, loaded, check=check).splitlines()


def test_a_first_load_counts_and_names_no_row() -> None:
    assert lines(FIRST) == [
        "1,234 rows read from 2 files and written.",
        "",
        f"  {'':22}     added    changed  as before",
        f"  {'readings':22}     1,200          0          0",
        f"  {'stations':22}        34          0          0",
        "",
        "Next: floorcare plan",
    ]


def test_a_look_without_a_database_and_a_load_that_changes_nothing_take_one_line() -> None:
    assert lines(None, check=True) == [
        "1,234 rows read from 2 files; only looked, nothing was written. There is no database yet: "
        "all is new."
    ]
    nothing = Loaded(counts=(("readings", 0, 0, 1234),))
    assert lines(nothing) == ["1,234 rows read from 2 files; nothing changed."]
    assert lines(nothing, check=True) == [
        "1,234 rows read from 2 files; only looked, nothing would change."
    ]


def test_a_changed_folder_is_told_row_by_row_what_stood_first() -> None:
    said = lines(CHANGED)
    assert said[0] == "1,234 rows read from 2 files and written."
    at = said.index("  readings")
    assert said[at : at + 6] == [
        "  readings",
        "    changed   NORTH/LANE/P2: value 52 → 53; reader empty → R. Vale",
        "    withdrawn NORTH/LANE/P1",
        "    added     NORTH/LANE/P3",
        "  zones",
        "    ended     NORTH/LANE: to_on empty → 2026-03-01",
    ]


def test_kinds_that_stay_as_they_were_are_only_counted() -> None:
    said = lines(CHANGED)
    assert "  1 other kind as before" in said
    assert not any(line.startswith("  stations") for line in said)
    assert not any("traffic" in line for line in said), "what nobody brought is not listed"


def test_what_the_program_outranks_is_reported_and_not_counted_as_a_change() -> None:
    said = lines(CHANGED)
    at = next(n for n, line in enumerate(said) if line.startswith("1 row of the folder"))
    assert "outranks it" in said[at]
    assert said[at + 1 : at + 3] == [
        "  readings",
        "    kept      NORTH/LANE/P4: value stays 50.5, the folder says 48",
    ]
    nothing = Loaded(counts=(("readings", 0, 0, 30),), changes=(reading(4, "outranked"),))
    assert lines(nothing)[0] == "1,234 rows read from 2 files; nothing changed."
    assert any("1 row of the folder" in line for line in lines(nothing))


def test_a_look_tells_the_same_difference_as_yet_to_come() -> None:
    looked, done = lines(CHANGED, check=True), lines(CHANGED)
    assert looked[0] == "1,234 rows read from 2 files; only looked, nothing was written."
    assert looked[2].split() == ["to", "add", "to", "change", "as", "before"]
    assert looked[3:-1] == done[3:-1]
    assert (looked[-1], done[-1]) == ("Next: the same without --check", "Next: floorcare plan")


def test_a_long_list_is_cut_and_says_how_many_more_there_are() -> None:
    many = Loaded(
        counts=(("readings", 20, 0, 5),), changes=tuple(reading(n, "added") for n in range(20))
    )
    said = lines(many)
    assert sum(line.startswith("    added ") for line in said) == MOST_OF_A_KIND
    assert f"    … and {20 - MOST_OF_A_KIND} more (--json names all)" in said
    exactly = replace(many, counts=(("readings", 12, 0, 5),), changes=many.changes[:12])
    assert not any("more" in line for line in lines(exactly))


def test_where_even_json_names_only_some_the_account_says_so() -> None:
    counted = Loaded(
        counts=(("readings", 4000, 0, 5),), changes=tuple(reading(n, "added") for n in range(500))
    )
    assert "    … and 3,988 more (--json names the first 500)" in lines(counted)


def test_an_endless_value_is_cut() -> None:
    endless = replace(CHANGED, changes=(reading(1, "changed", ("reader", "", "x" * 100_000)),))
    (line,) = [line for line in lines(endless) if "reader" in line]
    assert len(line) < 100
    assert line.endswith("…")
