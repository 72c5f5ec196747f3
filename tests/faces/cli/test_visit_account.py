from dataclasses import replace
from datetime import date

import pytest

from floorcare.faces.cli import visit_account
from floorcare.findings import Finding
from floorcare.services.change_visit import VisitChanged
from floorcare.services.shut_site import FallenVisit, ShutChanged, ShutRow

MOVED = VisitChanged(
    act="moved",
    written=True,
    visit="v1",
    site="NORTH",
    night_before=date(2026, 12, 3),
    night=date(2026, 12, 8),
    starts="22:00",
    minutes=180,
    state="held",
    commitment="night",
    agreement="not needed",
    stands=True,
    sequence=1,
    version=2,
    by="anna",
)


@pytest.mark.parametrize(
    ("act", "line"),
    [
        ("moved", "NORTH moved from Thu 03 Dec 2026 to Tue 08 Dec 2026 22:00; held, so"),
        ("held", "NORTH Tue 08 Dec 2026 22:00 is held; held, so no plan moves it."),
        ("asked", "NORTH Tue 08 Dec 2026 22:00: anna was asked; held, so"),
        ("agreed", "NORTH Tue 08 Dec 2026 22:00: anna agreed; held, so"),
    ],
)
def test_the_first_line_says_what_was_done_and_what_it_means(act, line):
    assert visit_account.changed(replace(MOVED, act=act)).startswith(line)


def test_what_does_not_stand_may_be_moved_and_what_was_refused_is_looked_for_anew():
    free = replace(MOVED, act="released", state="proposed", stands=False)
    assert visit_account.changed(free).endswith("held no longer; the next plan may move it.")
    refused = replace(free, act="refused", offered=(date(2026, 12, 9), date(2026, 12, 11)))
    assert visit_account.changed(refused).splitlines() == [
        "NORTH Tue 08 Dec 2026 22:00: anna refused; the next plan looks for another night.",
        "  instead: Wed 09 Dec 2026, Fri 11 Dec 2026",
    ]


def test_an_agreed_visit_stands_by_its_agreement():
    agreed = replace(MOVED, act="agreed", state="proposed", agreement="agreed")
    assert visit_account.changed(agreed).endswith("anna agreed; agreed, so no plan moves it.")


def test_a_visit_called_off_lists_what_is_left():
    off = replace(MOVED, act="cancelled", undone=("LANE recoat, wanted by 8 December 2026: …",))
    first, undone, hint = visit_account.changed(off).splitlines()
    assert "is called off; calendars show it called off until seven days" in first
    assert undone == "  back to the rules: LANE recoat, wanted by 8 December 2026: …"
    assert "`floorcare visits refuse`" in hint


def test_what_cannot_be_and_what_should_not_be_are_told_apart():
    stops = replace(MOVED, written=False, findings=(Finding(problem="shut"),))
    assert visit_account.not_changed(stops) == (
        "NORTH Thu 03 Dec 2026 cannot be moved; nothing was changed."
    )
    unwise = replace(stops, findings=(Finding(problem="late", weight="asks"),))
    assert visit_account.not_changed(unwise).endswith("nothing was changed. --sure does it.")


SHUT = ShutRow(site="NORTH", from_on=date(2026, 12, 24), to_on=date(2027, 1, 1), why="inventory")


def test_shut_days_stand_one_a_line_with_a_single_day_said_once():
    day = replace(SHUT, site="SOUTH", to_on=SHUT.from_on)
    assert visit_account.shut_rows((SHUT, day), "", date(2026, 12, 1)).splitlines() == [
        "2 shut stretches from Tue 01 Dec 2026 on.",
        "  NORTH                Thu 24 Dec 2026 to Fri 01 Jan 2027  inventory",
        "  SOUTH                Thu 24 Dec 2026  inventory",
    ]
    assert visit_account.shut_rows((), "NORTH", date(2026, 12, 1)) == (
        "0 shut stretches of NORTH from Tue 01 Dec 2026 on."
    )


def test_visits_that_fall_into_it_are_parted_by_who_moves_them():
    free = FallenVisit(
        visit="v1",
        night=date(2026, 12, 28),
        state="proposed",
        agreement="not needed",
        stands=False,
    )
    agreed = replace(free, night=date(2026, 12, 30), agreement="agreed", stands=True)
    held = replace(agreed, state="held", agreement="not needed")
    told = visit_account.shut_changed(
        ShutChanged(written=True, withdrawn=False, shut=SHUT, fallen=(free, agreed, held))
    )
    assert told.splitlines() == [
        "NORTH is shut Thu 24 Dec 2026 to Fri 01 Jan 2027: inventory.",
        "  1 visit for the next plan to move: Mon 28 Dec 2026",
        "  Wed 30 Dec 2026 is agreed, so no plan moves it: floorcare visits move NORTH "
        "2026-12-30 --to …",
        "  Wed 30 Dec 2026 is held, so no plan moves it: floorcare visits move NORTH "
        "2026-12-30 --to …",
    ]


def test_days_taken_back_say_what_comes_next():
    told = visit_account.shut_changed(ShutChanged(written=True, withdrawn=True, shut=SHUT))
    assert told.endswith("(inventory). Next: floorcare plan")
