"""Language files: the same codes and fields everywhere, English where one lacks a text."""

from datetime import date

import pytest

from floorcare.errors import NotUnderstood
from floorcare.store.languages import LANGUAGES_FOLDER as FOLDER
from floorcare.store.languages import (
    fields_of,
    language_for,
    load_texts,
    own_texts,
    phrase_book,
    shipped_languages,
    surface_names,
)
from floorcare.store.surfaces import load_cautions

OTHERS = [tag for tag in shipped_languages() if tag != "en"]
PLURALS = ("count.",)


def english() -> dict[str, str]:
    own = own_texts(FOLDER / "en.toml")
    cautions = {f"caution.{code}": text for code, text in load_cautions().items()}
    return {**own, **cautions, **surface_names()}


def test_four_languages_are_shipped_english_first():
    assert shipped_languages() == ("en", "de", "es", "pl")


@pytest.mark.parametrize("tag", OTHERS)
def test_every_language_has_every_text_with_the_same_fields(tag):
    wanted, own = english(), own_texts(FOLDER / f"{tag}.toml")
    assert sorted(set(wanted) - set(own)) == []
    assert sorted(set(own) - set(wanted)) == []
    differing = [c for c in wanted if fields_of(wanted[c]) != fields_of(own[c])]
    assert differing == []


@pytest.mark.parametrize(
    ("asked", "found"),
    [("de", "de"), ("de-AT", "de"), ("DE-1996", "de"), ("pl_PL", "pl"), ("sw", "en"), ("", "en")],
)
def test_a_tag_is_looked_up_from_its_end(asked, found):
    # the steps of RFC 4647, section 3.4
    assert language_for(asked) == found


def test_days_numbers_and_plurals_are_the_languages_own():
    day = date(2026, 12, 1)
    assert load_texts("en").day(day) == "Tuesday 1 December 2026"
    assert "Dienstag" in load_texts("de").day(day)
    assert load_texts("de").number(1234.5, 1) == "1.234,5"
    polish = load_texts("pl")
    forms = {polish.count("visit", n).partition(" ")[2] for n in (1, 3, 5)}
    assert len(forms) == 3, "one, a few and many"


def test_names_and_cautions_are_found_by_their_english():
    book = phrase_book("de-AT")
    assert book["recoat"] != "recoat"
    assert all(text in book for text in load_cautions().values())
    assert all(name in book for name in surface_names().values())
    assert phrase_book("en") == {}


def test_what_a_language_lacks_is_read_in_english(tmp_path):
    (tmp_path / "en.toml").write_text('[list]\nto = "to"\nnone = "none"\n', encoding="utf-8")
    (tmp_path / "nl.toml").write_text('[list]\nto = "tot"\n', encoding="utf-8")
    texts = load_texts("nl", tmp_path)
    assert (texts.by_code["list.to"], texts.by_code["list.none"]) == ("tot", "none")
    assert texts.name("list.none", "-") == "none"
    assert texts.name("list.never", "as it was") == "as it was"
    assert texts.part("list") == {"to": "tot", "none": "none"}


@pytest.mark.parametrize(
    ("text", "said"),
    [("[list]\nto = 3\n", "a text is wanted"), ('[list]\nto = "{a"\n', "a brace without its pair")],
)
def test_a_file_that_cannot_be_is_refused_with_its_place(tmp_path, text, said):
    path = tmp_path / "xx.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(NotUnderstood) as trouble:
        own_texts(path)
    assert any(said in finding.problem for finding in trouble.value.findings)
