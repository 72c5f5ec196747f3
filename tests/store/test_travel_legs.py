from dataclasses import replace

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.site import TravelLeg
from tests.store.means import LEG, with_means
from tests.store.sample import LATER


def test_drives_come_back_sorted_by_branch_and_places(put, read):
    back = replace(LEG, leaves=LEG.reaches, reaches="", minutes=31, km=None)
    west = replace(LEG, branch="WEST", minutes=0)
    put(replace(with_means(), legs=(west, back, LEG)))
    assert read("legs") == (LEG, back, west)


def test_a_drive_is_known_by_branch_and_both_places(put, read):
    put(with_means())
    longer = replace(LEG, minutes=41, km=0.1 + 0.2)
    (change,) = put(Portfolio(legs=(longer,)), now=LATER)["drives"].changes
    assert (change.key, change.what) == ("EAST from the branch to NORTH", "changed")
    assert ("minutes", "28", "41") in change.fields
    assert put(Portfolio(legs=(longer,)), now=LATER)["drives"].unchanged == 1
    assert read("legs") == (longer,)


@pytest.mark.parametrize(
    ("leg", "unknown"),
    [
        (replace(LEG, branch="SOUTH"), 'branch "SOUTH" is not known'),
        (replace(LEG, reaches="QUAY"), 'site "QUAY" is not known'),
        (TravelLeg(branch="EAST", leaves="QUAY", reaches="", minutes=3), 'site "QUAY"'),
    ],
)
def test_a_branch_or_site_nobody_knows_is_told(put, leg, unknown):
    with pytest.raises(NotKnown, match=unknown):
        put(replace(with_means(), legs=(leg,)))


def test_two_drives_of_one_pair_that_differ_are_refused(put):
    with pytest.raises(NotUnderstood, match="two drives named alike differ"):
        put(replace(with_means(), legs=(LEG, replace(LEG, minutes=29))))
