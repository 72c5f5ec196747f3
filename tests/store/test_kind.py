from datetime import date
from decimal import Decimal

from floorcare.store.kind import Difference, Merged, PutCount, RowChange
from floorcare.store.sites import SITE_BRANCHES
from floorcare.store.stock import RATES, STOCK
from floorcare.store.traffic import TRAFFIC

NEW_YEAR = date(2026, 1, 1)


def test_a_kind_says_whether_its_rows_are_taken_back_and_whose_word_they_are():
    assert (TRAFFIC.withdraws, TRAFFIC.ranks) == (True, True)
    assert (SITE_BRANCHES.withdraws, SITE_BRANCHES.ranks) == (True, False)
    assert (STOCK.withdraws, STOCK.ranks) == (False, False)


def test_counts_are_alike_whatever_their_changes_say():
    change = RowChange(kind="rates", key="EAST", what="added")
    assert PutCount(added=1, changes=(change,)) == PutCount(added=1)
    assert PutCount(added=1) != PutCount(added=1, outranked=1)


def test_what_came_of_it_knows_its_keys_parents_and_every_value_a_row_ever_had():
    key = (7, "labour hour", "", NEW_YEAR)
    merged = Merged(
        kind=RATES,
        count=PutCount(changed=1, outranked=1),
        rows=((*key, Decimal("32.00"), "EUR", None),),
        added=(),
        differences=(
            Difference("changed", key, (("amount", Decimal("31.10"), Decimal("32.00")),)),
            Difference("outranked", key, (("currency", "EUR", "CHF"),)),
        ),
    )
    assert merged.keys == (key,)
    assert merged.parents == {7}
    assert merged.ever("amount") == {Decimal("31.10"), Decimal("32.00")}
    assert merged.ever("to_on") == set()
    assert merged.before == (
        {
            "key": {"branch_id": 7, "kind": "labour hour", "what": "", "from_on": "2026-01-01"},
            "changed": {"amount": ["31.10", "32.00"]},
        },
    )
