from dataclasses import replace
from pathlib import Path

from floorcare.faces.cli.floor_account import floors_said
from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.services.sheets import GlossBand
from tests.golden.sheets import CONDITION

LANE = replace(
    next(row for row in CONDITION.rows if row.zone == "MARKET/LANE-1"),
    haze=0.081,
    film=0.174,
    scratch=0.149,
    haze_times=1.31,
    wear_times=0.88,
    bands=(
        GlossBand(level=0.5, low_gu=45.6, high_gu=47.7),
        GlossBand(level=0.9, low_gu=44.0, high_gu=49.4),
    ),
)
KNOWN = replace(CONDITION, rows=(LANE,), alarms=())


def test_floors_stand_in_columns_and_a_dash_stands_for_what_is_not_known() -> None:
    lines = floors_said((CONDITION,), (Path("out/floors.csv"),)).splitlines()
    assert lines[0].startswith(f"{CONDITION.branch}: ")
    assert lines[-1] == "Written: out/floors.csv"
    rows = lines[3 : 3 + len(CONDITION.rows)]
    for line, row in zip(rows, CONDITION.rows, strict=True):
        assert line.split()[0] == row.zone
        if row.gloss_gu is None:
            assert "–" in line
        else:
            assert f" {row.gloss_gu:.0f} " in line
        assert line[lines[2].index("evidence") :].startswith(row.evidence)
        assert line[lines[2].index("nights left") :].startswith(row.nights_to_promise)


def test_rates_stand_as_so_many_times_the_surfaces_usual_with_what_they_mean() -> None:
    head, row, *_, meaning = (line for line in floors_said((KNOWN,), ()).splitlines()[2:] if line)
    for name, figure in (("haze", "1.3 ×"), ("wear", "0.9 ×")):
        ends = head.index(name) + len(name)
        assert row[:ends].endswith(figure)
    assert meaning.startswith("haze, wear: how many times as fast as its surface usually does")
    assert "haze, wear:" not in floors_said((CONDITION,), ()), (
        "nothing is explained that is not there"
    )


def test_one_zone_is_told_in_full() -> None:
    assert floors_said((KNOWN,), (), in_full=True).splitlines() == [
        "MARKET/LANE-1, Hall B, main lane: 47 GU today (44 to 49 with 90 %); promised 45; nights "
        "to promise: 24; measured; next recoat Wed 4 Mar.",
        "  floor  polished concrete, 420 m², traffic extreme, counted",
        "  read   47 GU on Friday 27 February 2026",
        "  state  haze 0.08, film 0.17, scratch 0.15",
        "  rates  wears 1.3 × the surface's usual haze, 0.9 × its usual film and finish",
        "  bands  50 % 46 to 48; 90 % 44 to 49 GU",
        "  why    Likely to pass 80 % of reference between 20 March and 9 April.",
    ]


def test_a_zone_nobody_read_is_told_without_figures() -> None:
    foyer = next(row for row in CONDITION.rows if row.zone == "MUSEUM/FOYER")
    said = floors_said((replace(CONDITION, rows=(foyer,), alarms=()),), (), in_full=True)
    assert [line.split()[0] for line in said.splitlines()[1:]] == ["floor", "why"]


def test_charts_are_counted_not_listed() -> None:
    rows = tuple(replace(LANE, chart=f"chart-{n}.svg") for n in range(3))
    said = floors_said((replace(CONDITION, rows=rows),), (Path("a.csv"),)).splitlines()
    assert said[-2:] == ["Written: a.csv", "Written beside them: chart-0.svg and 2 more"]


def test_where_no_branch_is_entered_the_next_step_is_told() -> None:
    assert floors_said((), ()) == NO_BRANCH


def test_alarms_stand_under_the_table_and_say_that_no_plan_was_changed() -> None:
    lines = floors_said((CONDITION,), ()).splitlines()
    head = lines.index("To look at (no plan was changed):")
    assert head > 3 + len(CONDITION.rows)
    assert lines[head + 1] == f"  {CONDITION.alarms[0]}"
    assert "To look at" not in floors_said((replace(CONDITION, alarms=()),), ())
