from datetime import date
from decimal import Decimal

import pytest

from floorcare.faces.intake.readers import (
    AMOUNT,
    CLOCK,
    CODE,
    CODES,
    COUNTRY,
    CURRENCY,
    DAYS,
    EMAIL,
    LANGUAGES,
    NAME,
    NOTE,
    PERMITS_GIVEN,
    TIME_ZONE,
    UUID,
    WEEKDAYS,
    YES_NO,
    member,
    number,
    one_of,
    whole,
)
from floorcare.faces.intake.unfit import Unfit
from floorcare.ground.trade.reading import SurfaceState


def mend_of(trouble: Unfit) -> str:
    return trouble.mend if isinstance(trouble.mend, str) else trouble.mend(True)


def refused(reader, text, decimal=".") -> Unfit:
    with pytest.raises(Unfit) as caught:
        reader.read(text, decimal)
    assert caught.value.allowed
    assert mend_of(caught.value)
    return caught.value


def test_numbers_are_read_by_the_files_own_decimal_sign():
    area = number(0.1, 1_000_000, "m²")
    assert area.read("1.234", ".") == 1.234
    assert area.read("1,234", ",") == 1.234


def test_a_number_with_two_meanings_is_refused_and_both_are_named():
    trouble = refused(number(0.1, 1_000_000, "m²"), "1,234")
    assert trouble.problem == "can mean 1.234 or 1234"
    assert trouble.mend == "write 1234, or 1.2340"
    assert number(0.1, 1_000_000).read("1.2340", ".") == 1.234


def test_a_number_of_which_one_meaning_alone_is_allowed_is_read():
    assert number(-90, 90).read("51.234", ",") == 51.234


def test_a_lost_decimal_point_is_asked_after():
    assert refused(number(1, 200, "GU"), "412").mend == (
        "was a decimal point lost? Write 41.2 if so"
    )
    assert refused(number(1, 200), "-4").mend == "correct the sign"
    assert refused(number(1, 200), "90000").mend == "correct the number"


def test_a_share_may_be_written_in_percent():
    share = number(0, 0.9, percent=True)
    assert share.read("12 %", ".") == 0.12
    assert share.read("12,5%", ",") == 0.125
    refused(number(0, 0.9), "12%")
    assert refused(share, "20").mend == "write 20 % if that is meant"


def test_a_whole_number_is_whole():
    assert whole(1, 10).read("7", ".") == 7
    assert whole(1, 10).read("7.0", ".") == 7
    assert refused(whole(1, 10), "7.5").problem == "is not a whole number"


@pytest.mark.parametrize("text", ["Hall B", "-x", "a" * 41, "köln", "a/b", "a\u202eb"])
def test_a_code_is_plain(text):
    refused(CODE, text)


def test_codes_are_split_at_spaces_and_commas():
    assert CODES.read("A B,C", ".") == ("A", "B", "C")


def test_a_name_of_a_hundred_thousand_characters_is_refused_with_its_length():
    assert "100,000" in mend_of(refused(NAME, "n" * 100_000))


@pytest.mark.parametrize("text", ["a\x07b", "a\nb", "a\u202eb", "a\x1bb"])
def test_a_name_holds_no_control_characters(text):
    refused(NAME, text)


def test_a_note_is_one_line_of_some_length():
    assert NOTE.read("ring twice\nsecond door", ".") == "ring twice second door"
    assert refused(NOTE, "n" * 501).problem == "is too long"
    assert refused(NOTE, "a\x07b").problem == "holds control characters"


def test_words_are_read_without_case_spaces_and_hyphens():
    state = member(SurfaceState)
    assert state.read("After_Burnish", ".") is SurfaceState.AFTER_BURNISH
    assert mend_of(refused(state, "after burnsh")) == 'write "after burnish" if that is meant'
    assert one_of(("metric", "US"), {"imperial": "US"}).read("Imperial", ".") == "US"


@pytest.mark.parametrize(
    ("text", "value"), [("yes", True), ("Y", True), ("FALSE", False), ("0", False)]
)
def test_yes_and_no(text, value):
    assert YES_NO.read(text, ".") is value


def test_neither_yes_nor_no():
    refused(YES_NO, "perhaps")


def test_days_are_sorted_and_each_once():
    assert DAYS.read("2026-12-26 2026-12-24,2026-12-24", ".") == (
        date(2026, 12, 24),
        date(2026, 12, 26),
    )
    refused(DAYS, "2026-12-24 soon")


def test_permits_are_split_at_commas_and_words():
    assert PERMITS_GIVEN.read("loud; wet / fuel machine", ".") == {"loud", "wet", "fuel machine"}
    assert PERMITS_GIVEN.read("loud and dust", ".") == {"loud", "dust"}
    assert mend_of(refused(PERMITS_GIVEN, "loud, wett")) == 'write "wet" if that is meant'


def test_time_zones_are_iana_names():
    assert TIME_ZONE.read("Europe/Berlin", ".") == "Europe/Berlin"
    assert "Europe/Berlin" in mend_of(refused(TIME_ZONE, "Europe/Berln"))


def test_weekdays_and_clock_times_are_those_of_working_time():
    assert WEEKDAYS.read("Mo-Fr", ".") == frozenset(range(5))
    refused(WEEKDAYS, "Blursday")
    assert CLOCK.read("22:00", ".") == 1320
    refused(CLOCK, "25:00")


def test_countries_and_currencies_are_codes():
    assert COUNTRY.read("de", ".") == "DE"
    refused(COUNTRY, "Germany")
    assert CURRENCY.read("eur", ".") == "EUR"
    refused(CURRENCY, "€")


@pytest.mark.parametrize(
    ("text", "decimal", "amount"),
    [
        ("1.234,50", ",", "1234.50"),
        ("1.234,50", ".", "1234.50"),
        ("1,234.50", ",", "1234.50"),
        ("0.1", ".", "0.1"),
        ("0,1", ",", "0.1"),
        ("12 345 678,90", ",", "12345678.90"),
        ("99999999.9999", ".", "99999999.9999"),
        ("7", ".", "7"),
        ("1.50000", ".", "1.5"),
    ],
)
def test_an_amount_is_exact(text, decimal, amount):
    assert AMOUNT.read(text, decimal) == Decimal(amount)


@pytest.mark.parametrize(
    ("text", "problem", "mend"),
    [
        ("1,234", "can mean 1.234 or 1234", "write 1234, or 1.2340"),
        ("-3", "lies outside what is allowed", "correct the sign"),
        ("100000001", "lies outside what is allowed", "was a decimal point lost?"),
        ("1.00001", "has more decimals than any price", "round it"),
        ("€ 12", "is not a number", "write the number alone"),
    ],
)
def test_what_is_no_amount_is_refused(text, problem, mend):
    trouble = refused(AMOUNT, text)
    assert trouble.problem == problem
    assert mend_of(trouble).startswith(mend)


def test_language_tags_are_written_as_usual_and_once():
    assert LANGUAGES.read("DE, en-us ZH-hant-TW de", ".") == ("de", "en-US", "zh-Hant-TW")
    assert LANGUAGES.read("es-419", ".") == ("es-419",)
    refused(LANGUAGES, "german/english")
    refused(LANGUAGES, "e")


def test_an_email_address_is_one_address():
    assert EMAIL.read("kim.hale+north@contractor.example", ".")
    for text in ("kim", "kim@here", "a@b.c, d@e.f", "a b@c.d", "a@b..c", f"a@{'b' * 250}.example"):
        refused(EMAIL, text)


def test_a_uuid_is_whole_and_small():
    whole_one = "6F1D2C1E-7A51-4C53-9A0E-2F3B6F0C9D11"
    assert UUID.read(whole_one, ".") == whole_one.lower()
    for text in (whole_one[:-1], whole_one.replace("-", ""), "G" + whole_one[1:]):
        refused(UUID, text)
