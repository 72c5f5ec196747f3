from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.equipment import StockEntry, StockMove, Supply
from floorcare.services.order_material import order_material
from tests.services.conftest import TODAY
from tests.store.sample import NOW

COUNT = StockEntry(
    branch="WEST", material="protector", on=date(2026, 1, 5), move=StockMove.COUNTED, quantity=6.0
)
SUPPLY = Supply(branch="WEST", material="protector", pack=5.0, lead_days=7, reserve=5.0)


def put(store, **more) -> None:
    with store.work(writes=True) as work:
        work.put_portfolio(Portfolio(**more), who="test", now=NOW)
        work.commit()


def test_the_plan_is_held_against_the_stock_of_its_branch(planned, surfaces):
    put(planned, stock=(COUNT,), supplies=(SUPPLY,))
    east, west = order_material(planned, surfaces, today=TODAY, weeks=40)
    assert (east.branch_code, west.branch_code) == ("EAST", "WEST")
    (line,) = west.order.lines
    with planned.work() as work:
        nights = {v.night for v in work.visits(sites=["SOUTH"], first=TODAY)}
    assert line.days
    assert {day.on for day in line.days} <= nights
    assert line.packs >= 1
    assert "neutral_cleaner" in {finding.value for finding in west.order.findings}


def test_a_full_shelf_needs_nothing_and_nothing_is_written(planned, surfaces):
    put(planned, stock=(replace(COUNT, quantity=900.0),), supplies=(SUPPLY,))
    with planned.work() as work:
        before = work.history()
    (west,) = order_material(planned, surfaces, today=TODAY, branch="WEST")
    assert west.order.to_order == ()
    with planned.work() as work:
        assert work.history() == before


def test_a_branch_nobody_knows_is_told(planned, surfaces):
    with pytest.raises(NotKnown, match='no branch "NOPE"'):
        order_material(planned, surfaces, today=TODAY, branch="NOPE")
