import pytest

from floorcare.errors import NotKnown
from floorcare.store import rows
from floorcare.store.known import Known
from tests.store.sample import portfolio


@pytest.fixture
def known(store, put):
    put(portfolio())
    with store.work() as work:
        yield Known(work._reading())


def test_codes_are_looked_up_and_no_code_is_nobody(known):
    north = known.id(rows.site, "NORTH", "test")
    assert known.ids(rows.site.c.code)["NORTH"] == north
    assert known.maybe(rows.site, "NORTH", "test") == north
    assert known.maybe(rows.site, "", "test") is None
    assert known.zone("NORTH", "LANE", "test") != known.zone("SOUTH", "LANE", "test")
    assert known.maybe_zone("NORTH", "", "test") is None


def test_a_code_nobody_knows_is_told_with_who_names_it(known):
    with pytest.raises(NotKnown, match=r'^call 7: site "X" is not known$'):
        known.id(rows.site, "X", "call 7")
    with pytest.raises(NotKnown, match=r'^call 7: zone "NORTH/X" is not known$'):
        known.zone("NORTH", "X", "call 7")


def test_a_table_is_read_once(known):
    assert known.ids(rows.site.c.code) is known.ids(rows.site.c.code)
