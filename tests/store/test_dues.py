import pytest

from floorcare.errors import NotKnown
from floorcare.store.dues import Places, due_row
from tests.store.sample import due, not_placed

PLACES = Places(sites={"NORTH": 1}, zones={(1, "LANE"): 7})


def test_a_due_names_its_site_and_zone(store):
    row = due_row(due(), 3, PLACES)
    assert (row["plan_id"], row["site_id"], row["zone_id"]) == (3, 1, 7)
    assert row["needs"] == "loud,wet"
    assert row["unplaced_why"] is None


def test_work_on_a_whole_site_has_no_zone():
    assert due_row(not_placed().due, 3, PLACES)["zone_id"] is None


@pytest.mark.parametrize(
    ("site", "zone", "said"),
    [
        ("NORTH", "EDGE", "zone NORTH/EDGE"),
        ("MOON", "LANE", "site MOON"),
        ("MOON", "", "site MOON"),
    ],
)
def test_a_place_nobody_knows_is_told(site, zone, said):
    with pytest.raises(NotKnown) as told:
        due_row(due(site, zone), 3, PLACES)
    assert told.value.where == said
