from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.equipment import MachinePlace
from tests.store.means import MACHINE, with_means
from tests.store.sample import LATER


def test_machines_come_back_with_places_and_outages(put, read):
    put(with_means())
    assert read("machines") == (MACHINE,)


def test_a_machine_that_is_moved_leaves_where_it_stood(put, read):
    put(with_means())
    home = MachinePlace(branch="WEST", site="", from_on=date(2026, 4, 1))
    put(Portfolio(machines=(replace(MACHINE, places=(home,)),)), now=LATER)
    first, at_site, now_home = read("machines")[0].places
    assert first == MACHINE.places[0]
    assert at_site == replace(MACHINE.places[1], to_on=date(2026, 3, 31))
    assert now_home == home


def test_a_place_nobody_knows_is_told(put):
    nowhere = MachinePlace(branch="", site="NOWHERE", from_on=date(2026, 4, 1))
    with pytest.raises(NotKnown, match='machine B-7: site "NOWHERE" is not known'):
        put(replace(with_means(), machines=(replace(MACHINE, places=(nowhere,)),)))
