from dataclasses import replace

from floorcare.faces.documents.material_order_text import (
    amount_words,
    answer,
    as_text,
    life_words,
    order_by_words,
    packs_words,
)
from tests.golden.loads import ENOUGH, LATE, ORDERED


def test_what_is_overdue_is_said_first_and_ordered_today():
    assert answer(ORDERED) == "1 material to order, the first by Monday 2 March 2026; 1 overdue."
    assert order_by_words(LATE) == "Mon 23 Feb, overdue: order today"
    assert packs_words(LATE, "metric").replace("\xa0", " ") == "1 × 10.0 L"


def test_nothing_to_order_is_said():
    calm = replace(ORDERED, order=replace(ORDERED.order, lines=(ENOUGH,)))
    assert answer(calm) == "Nothing to order for 4 weeks ahead; 1 material reckoned."
    assert as_text(calm)["total"] == ""
    assert order_by_words(ENOUGH) == "–"


def test_a_total_says_what_has_no_price():
    unpriced = replace(LATE, material="sealer", amount=None)
    both = replace(ORDERED, order=replace(ORDERED.order, lines=(LATE, unpriced)))
    assert as_text(ORDERED)["total"] == "219.00 EUR"
    assert as_text(both)["total"] == "219.00 EUR, 1 material without a price besides"


def test_a_stock_below_nothing_keeps_its_sign_and_pieces_are_counted():
    assert amount_words(-3.0, "L", "metric").replace("\xa0", " ") == "−3.00 L"
    assert (amount_words(1.0, "pieces", "US"), amount_words(1.26, "pieces", "US")) == (
        "1 piece",
        "1.3 pieces",
    )


def test_a_life_says_what_it_was_learned_from():
    said = life_words(ORDERED.lives[0], "metric")
    assert said.startswith("white pad: 1,600 m² a set (")
    assert said.endswith("typed and learned from 3 sets on 6,000 m²")
