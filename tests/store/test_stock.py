from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.equipment import RateKind, StockMove
from tests.store.means import RATE, STOCK, with_means
from tests.store.sample import LATER


def test_stock_comes_back_sorted_by_branch_material_day_and_move(put, read):
    used = replace(STOCK, move=StockMove.USED, quantity=0.1 + 0.2)
    pads = replace(STOCK, material="pads", unit="pieces")
    west = replace(STOCK, branch="WEST", material="densifier")
    put(replace(with_means(), stock=(used, west, STOCK, pads)))
    assert read("stock") == (pads, STOCK, used, west)


@pytest.mark.parametrize("typed", ["0.1", "31.10", "1E+3", "0.000000000000000000001", "-0"])
def test_an_amount_of_money_is_kept_to_the_last_digit(put, read, typed):
    put(replace(with_means(), rates=(replace(RATE, amount=Decimal(typed)),)))
    assert read("rates")[0].amount == Decimal(typed)


def test_a_new_rate_ends_the_old_one_and_leaves_other_rates_alone(put, read):
    night = replace(RATE, kind=RateKind.NIGHT_SUPPLEMENT, amount=Decimal("7.5"))
    put(replace(with_means(), rates=(RATE, night)))
    dearer = replace(RATE, amount=Decimal("32.00"), from_on=date(2026, 7, 1))
    put(Portfolio(rates=(dearer,)), now=LATER)
    assert read("rates") == (replace(RATE, to_on=date(2026, 6, 30)), dearer, night)


def test_the_same_amount_written_otherwise_is_no_change(put):
    put(with_means())
    again = put(Portfolio(rates=(replace(RATE, amount=Decimal("31.1")),)), now=LATER)
    assert (again["rates"].changed, again["rates"].unchanged) == (0, 1)


def test_a_branch_nobody_knows_is_told(put):
    with pytest.raises(NotKnown, match='stock of protector on 2026-01-05: branch "SOUTH"'):
        put(replace(with_means(), stock=(replace(STOCK, branch="SOUTH"),)))
    with pytest.raises(NotKnown, match='rate of a labour hour from 2026-01-01: branch "SOUTH"'):
        put(replace(with_means(), rates=(replace(RATE, branch="SOUTH"),)))
