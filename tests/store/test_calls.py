from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio, withdrawal_of
from tests.store.means import CALL, with_means
from tests.store.sample import LATER


def test_calls_come_back_by_when_they_were_received(put, read):
    first = replace(CALL, uuid="b", zone="", received_at=CALL.received_at - timedelta(hours=1))
    put(replace(with_means(), calls=(CALL, first)))
    assert read("calls") == (first, CALL)


def test_a_call_is_closed_by_the_same_uuid(put, read):
    put(with_means())
    closed = replace(CALL, closed_at=LATER)
    (change,) = put(Portfolio(calls=(closed,)), now=LATER)["calls"].changes
    assert change.fields == (("closed_at", "", "2026-03-09 14:02 UTC"),)
    assert read("calls") == (closed,)


def test_a_call_taken_back_is_left_out(put, read):
    put(with_means())
    put(Portfolio(withdrawn=(withdrawal_of("NORTH", "LANE", CALL),)), now=LATER)
    assert read("calls") == ()


def test_a_zone_nobody_knows_is_told(put):
    with pytest.raises(NotKnown, match='zone "NORTH/ATTIC" is not known'):
        put(replace(with_means(), calls=(replace(CALL, zone="ATTIC"),)))
