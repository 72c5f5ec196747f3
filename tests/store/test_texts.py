from datetime import date

import pytest

from floorcare.findings import Reason
from floorcare.store import texts


def test_sets_give_one_text_whatever_their_order():
    assert texts.words_text(frozenset({"wet", "loud"})) == texts.words_text(("loud", "wet"))
    assert texts.words_of("loud,wet") == frozenset({"wet", "loud"})
    assert texts.numbers_text({6, 0}) == "0,6"
    assert texts.numbers_of("0,6") == frozenset({0, 6})


def test_nothing_is_an_empty_text():
    assert texts.words_of(texts.words_text(())) == frozenset()
    assert texts.numbers_of(texts.numbers_text(())) == frozenset()
    assert texts.codes_of(texts.codes_text(())) == ()
    assert texts.dates_of(texts.dates_text(())) == ()


def test_lists_keep_their_order():
    days = (date(2026, 12, 26), date(2026, 1, 1))
    assert texts.dates_of(texts.dates_text(days)) == days
    assert texts.codes_of(texts.codes_text(("Z2", "Z1"))) == ("Z2", "Z1")


def test_a_reason_keeps_whole_numbers_whole_and_broken_ones_broken():
    reason = Reason(
        rule="ladder",
        inside="Gläsern, 47 GU",
        customer="“bright”",
        facts=(("days", 9), ("gloss_gu", 9.0), ("on", "2026-03-02"), ("doi", None)),
        rejected=(("burnish", "holds six days"),),
    )
    back = texts.reason_of(texts.reason_text(reason))
    assert back == reason
    assert [type(value) for _, value in back.facts] == [int, float, str, type(None)]


def test_a_reason_that_reckoned_with_nothing_is_refused():
    reason = Reason(rule="r", inside="i", customer="c", facts=(("gloss_gu", float("nan")),))
    with pytest.raises(ValueError, match="JSON"):
        texts.reason_text(reason)
