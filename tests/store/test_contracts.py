from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.contract import FeeKind, FeeLine
from tests.store.means import CONTRACT, TERM, with_means
from tests.store.sample import LATER

NEXT = replace(TERM, starts_on=date(2028, 1, 1), ends_on=date(2029, 12, 31), fees=(TERM.fees[0],))


def test_a_contract_comes_back_whole(put, read):
    put(with_means())
    assert read("contracts") == (CONTRACT,)


def test_a_next_term_stands_beside_the_old_one_with_fees_of_its_own(put, read):
    put(with_means())
    counts = put(Portfolio(contracts=(replace(CONTRACT, terms=(NEXT,)),)), now=LATER)
    assert counts["terms"].added == counts["fees"].added == 1
    assert read("contracts")[0].terms == (TERM, NEXT)
    assert read("contracts")[0].exclusions == CONTRACT.exclusions


def test_an_amended_fee_is_told_from_what_to_what(put, read):
    put(with_means())
    dearer = replace(TERM.fees[0], amount=Decimal("1500"))
    counts = put(
        Portfolio(contracts=(replace(CONTRACT, terms=(replace(TERM, fees=(dearer,)),)),)),
        now=LATER,
    )
    (change,) = counts["fees"].changes
    assert change.key == "C-1 2024-01-01 fixed monthly"
    assert change.fields == (("amount", "1450.05", "1500"),)
    assert read("contracts")[0].terms[0].fees == (dearer, TERM.fees[1])


def test_two_amounts_for_one_fee_are_refused(put):
    twice = (
        FeeLine(kind=FeeKind.MONTHLY, amount=Decimal(1)),
        FeeLine(kind=FeeKind.MONTHLY, amount=Decimal(2)),
    )
    with pytest.raises(NotUnderstood, match="two fees named alike differ"):
        put(
            replace(
                with_means(), contracts=(replace(CONTRACT, terms=(replace(TERM, fees=twice),)),)
            )
        )


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (replace(CONTRACT, customer="NOBODY"), 'contract C-1: customer "NOBODY" is not known'),
        (
            replace(CONTRACT, exclusions=(replace(CONTRACT.exclusions[1], zone="ATTIC"),)),
            'exclusion of contract C-1: zone "NORTH/ATTIC" is not known',
        ),
        (
            replace(CONTRACT, terms=(replace(TERM, fees=(replace(TERM.fees[1], site="X"),)),)),
            'fee of contract C-1: site "X" is not known',
        ),
    ],
    ids=["customer", "zone", "site"],
)
def test_what_nobody_knows_is_told(put, wrong, said):
    with pytest.raises(NotKnown) as told:
        put(replace(with_means(), contracts=(wrong,)))
    assert str(told.value) == said
