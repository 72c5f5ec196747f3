from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import select

from floorcare.errors import NotKnown
from floorcare.ground.trade.site import Area, BranchSpan
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow
from floorcare.store import rows
from tests.store.sample import LATER, NOW, portfolio, site_book


def version(work, code):
    return work._connection.scalar(select(rows.site.c.version).where(rows.site.c.code == code))


def with_site(book, **changes):
    return replace(book, site=replace(book.site, **changes))


@pytest.fixture
def work(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        yield work


def test_a_site_comes_back_as_it_was_with_all_that_belongs_to_it(work):
    rich = with_site(
        site_book("RICH"),
        address="1 Hall Lane",
        latitude=52.5,
        longitude=13.4,
        holidays="worked",
        notice_days=0,
        access_note="Key at the gate; ring twice.",
        branches=(
            BranchSpan(branch="WEST", from_on=date(2020, 1, 1), to_on=date(2023, 12, 31)),
            BranchSpan(branch="EAST", from_on=date(2024, 1, 1)),
        ),
        windows=(
            AccessWindow(weekdays=frozenset({6}), starts_minute=0, ends_minute=1440),
            AccessWindow(
                weekdays=frozenset({0}),
                starts_minute=1320,
                ends_minute=300,
                from_on=date(2026, 1, 1),
                to_on=date(2026, 6, 30),
            ),
        ),
        shut_days=(
            ShutDay(from_on=date(2026, 1, 1), to_on=date(2026, 1, 1), why=""),
            ShutDay(from_on=date(2026, 8, 1), to_on=date(2026, 8, 14), why="refit"),
        ),
    )
    rich = replace(rich, areas=(Area(code="A", name="A"), Area(code="HALL", name="Hall")))
    work.put_portfolio(portfolio(rich), who="t", now=NOW)
    assert work.books(["RICH"]) == (rich,)


@pytest.mark.parametrize(
    "changes",
    [
        {"notice_days": 3},
        {"shut_days": (ShutDay(from_on=date(2026, 5, 1), to_on=date(2026, 5, 1), why="fair"),)},
        {"branches": (BranchSpan(branch="WEST", from_on=date(2026, 1, 1)),)},
    ],
    ids=str,
)
def test_an_edited_site_has_a_new_version_and_others_keep_theirs(work, changes):
    assert (version(work, "NORTH"), version(work, "SOUTH")) == (1, 1)
    work.put_portfolio(portfolio(with_site(site_book(), **changes)), who="t", now=LATER)
    assert (version(work, "NORTH"), version(work, "SOUTH")) == (2, 1)


def test_a_site_that_changes_branch_moves_both_branches_revisions(work):
    moved = with_site(site_book(), branches=(BranchSpan(branch="WEST", from_on=date(2026, 4, 1)),))
    work.put_portfolio(portfolio(moved), who="t", now=LATER)
    assert work.revisions() == {"EAST": 2, "WEST": 2}
    assert work.books(["NORTH"])[0].site.branches == (
        BranchSpan(branch="EAST", from_on=date(2024, 1, 1), to_on=date(2026, 3, 31)),
        BranchSpan(branch="WEST", from_on=date(2026, 4, 1)),
    )


def test_a_window_that_opens_later_takes_the_place_of_the_same_window(work):
    window = replace(site_book().site.windows[0], ends_minute=240)
    work.put_portfolio(portfolio(with_site(site_book(), windows=(window,))), who="t", now=LATER)
    assert work.books(["NORTH"])[0].site.windows == (window,)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"customer": "NOBODY"}, 'site NORTH: customer "NOBODY" is not known'),
        (
            {"branches": (BranchSpan(branch="MOON", from_on=date(2026, 1, 1)),)},
            'site NORTH: branch "MOON" is not known',
        ),
    ],
)
def test_a_name_nobody_knows_is_told_with_its_place(work, changes, said):
    with pytest.raises(NotKnown) as told:
        work.put_portfolio(portfolio(with_site(site_book(), **changes)), who="t", now=LATER)
    assert str(told.value) == said
