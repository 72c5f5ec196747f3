from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.equipment import Calibration
from tests.store.means import BRIDGE, METERS, with_means
from tests.store.sample import LATER


def test_instruments_come_back_with_their_calibrations_and_bridges(put, read):
    put(with_means())
    assert read("instruments") == METERS
    assert read("bridges") == (BRIDGE,)


def test_a_new_calibration_stands_beside_the_old_ones(put, read):
    put(with_means())
    again = Calibration(done_on=date(2026, 4, 20), valid_to=date(2027, 4, 30))
    put(Portfolio(instruments=(replace(METERS[0], calibrations=(again,)),)), now=LATER)
    assert read("instruments")[0].calibrations == (*METERS[0].calibrations, again)


def test_bridges_are_sorted_by_the_two_meters_and_the_day(put, read):
    put(with_means())
    back = replace(BRIDGE, first="M2", second="M1", offset_gu=1.4)
    later = replace(BRIDGE, on=date(2026, 2, 12), offset_gu=-1.25)
    put(Portfolio(bridges=(back, later)), now=LATER)
    assert read("bridges") == (BRIDGE, later, back)


def test_a_meter_nobody_knows_is_told(put):
    wrong = replace(BRIDGE, second="M9")
    with pytest.raises(NotKnown) as told:
        put(replace(with_means(), bridges=(wrong,)))
    assert str(told.value) == 'bridge M1 to M9 on 2026-01-12: instrument "M9" is not known'
