from dataclasses import replace
from datetime import date

from tests.store.means import MAKE_UP, SEASON, with_means
from tests.store.sample import LATER, portfolio, site_book, with_zone


def test_seasons_and_make_ups_come_back_with_their_site_and_zone(put, read):
    put(with_means())
    north, south = read("books")
    assert (north.seasons, north.zones[0].make_ups) == ((SEASON,), (MAKE_UP,))
    assert (south.seasons, south.zones[0].make_ups) == ((), ())


def test_a_make_up_from_a_later_day_stands_beside_the_earlier(put, read):
    put(with_means())
    finer = replace(MAKE_UP, from_on=date(2025, 6, 1), grit=1500)
    put(portfolio(with_zone(site_book(), make_ups=(finer,))), now=LATER)
    assert read("books")[0].zones[0].make_ups == (MAKE_UP, finer)
    assert read("revisions") == {"EAST": 2, "WEST": 1}


def test_a_harder_season_changes_the_plans_of_its_branch_only(put, read):
    put(with_means())
    harder = replace(SEASON, factor=3.0)
    put(portfolio(replace(site_book(), seasons=(harder,))), now=LATER)
    assert read("books")[0].seasons == (harder,)
    assert read("revisions") == {"EAST": 2, "WEST": 1}
