from dataclasses import replace

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from tests.store.means import SUPPLY, with_means
from tests.store.sample import LATER


def test_supplies_come_back_sorted_by_branch_and_material(put, read):
    pads = replace(SUPPLY, material="pads", pack=5.0, unit="pieces", reserve=0.1 + 0.2)
    west = replace(SUPPLY, branch="WEST", material="densifier", lead_days=14)
    put(replace(with_means(), supplies=(west, SUPPLY, pads)))
    assert read("supplies") == (pads, SUPPLY, west)


def test_a_supply_is_known_by_branch_and_material(put, read):
    put(with_means())
    bigger = replace(SUPPLY, pack=20.0)
    assert put(Portfolio(supplies=(bigger,)), now=LATER)["supplies"].changed == 1
    assert put(Portfolio(supplies=(bigger,)), now=LATER)["supplies"].unchanged == 1
    assert read("supplies") == (bigger,)


def test_a_branch_nobody_knows_is_told(put):
    with pytest.raises(NotKnown, match='supply of protector: branch "SOUTH"'):
        put(replace(with_means(), supplies=(replace(SUPPLY, branch="SOUTH"),)))
