from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from floorcare.faces.cli import accounts
from floorcare.faces.cli.demo import DemoAccount
from floorcare.faces.cli.writing import WrittenCalendar
from floorcare.ground.schedule.urgent import UrgentFloor
from floorcare.ground.trade.visit import ChangeKind, PlanChange
from floorcare.services.load_care import Loaded
from floorcare.services.plan_year import YearAccount
from floorcare.services.show_visits import VisitRow
from floorcare.store.upgrade import UpgradeResult
from tests.golden import sheets
from tests.store.sample import due, not_placed

LOADED = Loaded(counts=(("readings", 1200, 3, 30), ("stations", 0, 0, 1), ("traffic", 0, 0, 0)))


def change(kind: ChangeKind, n: int = 1) -> PlanChange:
    return PlanChange(
        kind=kind,
        visit=f"v{n}",
        site="NORTH",
        night_before=None if kind is ChangeKind.ADDED else date(2026, 12, 2),
        night_after=None if kind is ChangeKind.DROPPED else date(2026, 12, 3),
        why=f"because {n}",
    )


YEAR = YearAccount(
    written=True,
    today=date(2026, 11, 23),
    last_on=date(2027, 11, 22),
    sites=2,
    zones=3,
    visits=26,
    lines=1,
    late=0,
    changes=(change(ChangeKind.MOVED), change(ChangeKind.ADDED), change(ChangeKind.KEPT)),
    unplaced=(),
    urgent=(
        UrgentFloor(site="NORTH", zone="LANE", night=date(2026, 12, 1), sentence="It is worn."),
        UrgentFloor(site="SOUTH", zone="LANE", night=None, sentence="It is worn too."),
    ),
    outlooks=(),
    findings=(),
    over_before=0,
    over_after=0,
    saved_minutes=0,
)


def plan(account: YearAccount = YEAR, *, dry_run: bool = False, every: bool = False) -> list[str]:
    return accounts.plan_account(account, dry_run=dry_run, every_change=every).splitlines()


@pytest.mark.parametrize(
    ("written", "dry_run", "head"),
    [
        (True, False, "Plan written: "),
        (False, True, "Dry run, nothing written: "),
        (False, False, "Nothing changed, nothing written: "),
    ],
)
def test_a_plan_answers_in_its_first_line(written, dry_run, head):
    assert plan(replace(YEAR, written=written), dry_run=dry_run)[0] == (
        f"{head}26 visits with 1 line at 2 sites, 23 November 2026 to 22 November 2027; "
        "1 added, 1 moved, 1 kept."
    )


def test_moved_visits_are_named_and_new_ones_only_if_asked():
    named = [line.split()[0] for line in plan() if "because" in line]
    assert named == ["moved"]
    every = [line for line in plan(every=True) if "because" in line]
    assert [line.split()[0] for line in every] == ["moved", "added"]
    assert "Wed 02 Dec 2026 → Thu 03 Dec 2026" in every[0]
    assert "– → Thu 03 Dec 2026" in every[1]


def test_a_long_list_of_moves_is_cut_unless_every_one_is_asked_for():
    many = replace(YEAR, changes=tuple(change(ChangeKind.MOVED, n) for n in range(30)))
    assert len([line for line in plan(many) if "because" in line]) == accounts.MOST_CHANGES
    assert any(line.endswith("more (--changes names all)") for line in plan(many))
    assert not any("--changes" in line for line in plan(many, every=True))
    assert len([line for line in plan(many, every=True) if "because" in line]) == 30


def test_urgent_floors_stand_with_their_night_or_without_one():
    at = plan().index("Most urgent:")
    assert plan()[at + 1 : at + 3] == [
        "  NORTH/LANE, planned Tue 01 Dec 2026: It is worn.",
        "  SOUTH/LANE, no night found: It is worn too.",
    ]
    assert accounts.urgent_lines(()) == ["No floor needs a treatment within the horizon."]


def test_what_found_no_night_stands_with_its_reason_and_what_would_help():
    assert accounts.unplaced_lines((), 0) == ["Everything found a night."]
    one = replace(not_placed(), due=due())
    head, line, late = accounts.unplaced_lines((one,), 2)
    assert head == "1 work could not be placed:"
    assert line == (
        "  NORTH/LANE recoat by Thu 26 Mar 2026: no open night. "
        "Would help: open one night before 26 March."
    )
    assert late.startswith("2 lines found a night only after the latest one")
    many = accounts.unplaced_lines((one,) * (accounts.MOST_UNPLACED + 3), 0)
    assert many[0] == f"{accounts.MOST_UNPLACED + 3} works could not be placed:"
    assert many[-1] == "  … and 3 more (--json names all)"


def test_crews_over_capacity_are_told():
    assert not any(line.startswith("Crews: ") for line in plan())
    (crews,) = [
        line for line in plan(replace(YEAR, over_before=1500, over_after=0)) if "Crews: " in line
    ]
    assert "1,500 crew-minutes lay above a night's capacity, 0 do" in crews


def test_visits_stand_by_night_and_the_late_ones_say_so():
    row = VisitRow(
        visit="v1",
        site="NORTH",
        site_name="North hall",
        night=date(2026, 12, 2),
        starts="22:00",
        minutes=150,
        people=2,
        state="proposed",
        agreement="not needed",
        work=("LANE recoat", "EDGE burnish"),
        latest=date(2026, 12, 1),
        late=True,
        reason="It is worn.",
    )
    head, *lines = accounts.visit_rows((row,), row.night, row.night).splitlines()
    assert head == "1 visit from 2 December 2026 to 2 December 2026."
    assert lines == [
        "  Wed 02 Dec 2026  22:00   150 min  NORTH                proposed, late: "
        "LANE recoat, EDGE burnish"
    ]


def test_lists_and_calendars_say_where_they_lie():
    said = accounts.lists((sheets.WEEK,), (Path("out/a.pdf"), Path("out/a.csv"))).splitlines()
    assert said[0].startswith(f"{sheets.WEEK.branch}: 3 visits")
    assert said[1:] == ["Written: out/a.pdf", "Written: out/a.csv"]
    calendars = [
        WrittenCalendar(site="A", path=Path("out/A.ics"), visits=1, left_out=3),
        WrittenCalendar(site="B", path=Path("out/B.ics"), visits=2, left_out=0),
    ]
    assert accounts.calendars(calendars).splitlines() == [
        "2 calendars written.",
        "  out/A.ics: 1 visit, 3 left out",
        "  out/B.ics: 2 visits",
    ]


@pytest.mark.parametrize(
    ("created", "before", "copy", "said"),
    [
        (True, None, None, "New database made at revision 0002. Next: floorcare load FOLDER"),
        (False, "0002", None, "The database is up to date, revision 0002."),
        (
            False,
            "0001",
            Path("old.db"),
            "Upgraded from revision 0001 to 0002. A copy from before lies at old.db.",
        ),
        (False, "0001", None, "Upgraded from revision 0001 to 0002."),
    ],
)
def test_an_upgrade_says_what_it_did(created, before, copy, said):
    result = UpgradeResult(
        created=created, from_revision=before, to_revision="0002", copy_path=copy
    )
    assert accounts.upgraded(result) == said


def test_the_demo_counts_names_its_files_and_the_next_command():
    account = DemoAccount(
        database=Path("demo/floorcare.db"),
        loaded=LOADED,
        plan=YEAR,
        files=(("database", Path("demo/floorcare.db")), ("calendars", Path("demo/calendars"))),
    )
    lines = accounts.demo_account(account).splitlines()
    assert lines[0] == (
        "A year is planned: 26 visits with 1 line for 3 zones at 2 sites, from 1,234 records of "
        "an invented contractor, as of 23 November 2026."
    )
    assert "Everything found a night." in lines
    assert "  calendars          demo/calendars" in lines
    assert lines[-2] == "Next: floorcare visits --db demo/floorcare.db --from 2026-11-23"
    again = replace(
        account,
        loaded=Loaded(counts=(("readings", 0, 0, 1234),)),
        plan=replace(YEAR, written=False),
    )
    lines = accounts.demo_account(again).splitlines()
    assert "from 1,234 records" in lines[0]
    assert lines[1] == "All of it stood already; every visit was kept."


def test_a_plan_of_some_sites_names_them() -> None:
    alone = replace(YEAR, alone=("NORTH", "SOUTH"))
    assert accounts.alone_words(alone) == (
        "Planned: NORTH, SOUTH. Every other site stays as it stands."
    )


def test_a_plan_that_had_to_take_every_site_says_why() -> None:
    assert accounts.alone_words(YEAR) == (
        "Every site was planned: the plan that stood was of another day, horizon or pooled values."
    )
