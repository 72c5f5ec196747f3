"""Sentences of sheets found by their English and said in the reader's language."""

import pytest

from floorcare.store.languages import load_texts
from floorcare.store.respoken import SENTENCES, respoken, state_respoken

FIELDS = {"from": "18:30", "to": "01:00", "days": "14", "day": "24 November 2026", "what": "wet"}


@pytest.mark.parametrize("tag", ["de", "es", "pl"])
@pytest.mark.parametrize("code", SENTENCES)
def test_each_sentence_is_found_whatever_stands_in_its_fields(tag, code):
    english, texts = load_texts("en"), load_texts(tag)
    said = english.say(code, **FIELDS)
    found = respoken(f"{said} ring twice", texts)
    assert found.endswith(" ring twice")
    assert said not in found
    assert found != f"{said} ring twice"


def test_english_and_what_nobody_knows_stay_as_they_are():
    said = "18:30 to 01:00, permits wet"
    assert respoken(said, load_texts("en")) == said
    assert respoken("ring twice at the gate", load_texts("de")) == "ring twice at the gate"


def test_permits_days_and_states_are_said_one_by_one():
    texts = load_texts("de")
    assert respoken("18:30 to 01:00, permits dust, wet", texts).endswith(
        f"{texts.by_code['permit.dust']}, {texts.by_code['permit.wet']}"
    )
    state = state_respoken("proposed, may still move, late: wanted by 24 November 2026", texts)
    assert "24. November 2026" in state
    assert "wanted" not in state
    assert "31 Nonember 2026" in respoken("late: wanted by 31 Nonember 2026", texts)
