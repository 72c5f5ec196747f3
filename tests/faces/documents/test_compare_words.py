from dataclasses import replace

from floorcare.faces.documents.compare_words import (
    NOTHING,
    answer,
    kinds_told,
    money_words,
    sentences,
    verdict_words,
)
from floorcare.ground.schedule.comparison.account import CostSpread, Verdict
from floorcare.ground.schedule.comparison.compare import Way
from tests.golden.comparisons import COMPARED, EMPTY, spread

MONEY = (
    CostSpread(currency="EUR", amount=spread(1000, 100)),
    CostSpread(currency="USD", amount=spread(2000)),
)


def test_the_answer_names_cost_and_look_of_both():
    assert answer(COMPARED) == (
        "Measured wear costs 9,000 EUR against 8,000 EUR for the fixed calendar, and keeps the "
        "look on 95 % against 88 % of days."
    )
    assert answer(EMPTY) == NOTHING


def test_it_is_said_plainly_where_the_calendar_wins_and_where_it_does_not():
    told = list(sentences(COMPARED))
    assert "The calendar as agreed wins at STORE." in told
    assert "  Against it measured wear wins at MARKET." in told
    assert "The calendar tuned in hindsight wins nowhere." in told


def test_hindsight_is_told_with_its_factor_and_how_often_wear_costs_less():
    told = list(sentences(COMPARED))
    assert (
        "A calendar tuned in hindsight to the same look (every gap × 0.43) costs 14,000 EUR; "
        "measured wear costs less in 88 % of the futures."
    ) in told
    short = list(sentences(replace(COMPARED, reached=False)))
    assert any(s.startswith("No stretch of this calendar comes to the same look") for s in short)


def test_what_is_alike_apart_and_taken_as_standard_is_said():
    told = "\n".join(sentences(COMPARED))
    assert "cost 150 EUR (130–170) beyond what wear asks for" in told
    assert "standing rounds take 2,100 hours in every plan alike" in told
    assert "Apart, as agreed in every plan: 2 zones, no readings to go by" in told
    assert "count as standard: NORTH: a labour hour as 30 EUR." in told


def test_money_of_two_currencies_stands_side_by_side():
    assert money_words(MONEY) == "1,000 EUR (900–1,100) and 2,000 USD"


def test_contracts_that_are_one_a_site_need_no_table_of_their_own():
    assert kinds_told(COMPARED) == ("currency", "site")
    one = replace(COMPARED.groups[1], zones=8)
    mixed = replace(COMPARED, groups=(COMPARED.groups[0], one, *COMPARED.groups[3:]))
    assert kinds_told(mixed) == ("currency", "contract", "site")


def test_without_a_verdict_a_dash_stands():
    none = replace(COMPARED.groups[0].versus[0], verdict=None)
    assert verdict_words(replace(COMPARED.groups[0], versus=(none,)), Way.AGREED) == "–"
    assert verdict_words(COMPARED.groups[4], Way.AGREED) == Verdict.CALENDAR.value
