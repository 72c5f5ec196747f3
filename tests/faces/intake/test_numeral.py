from decimal import Decimal

import pytest

from floorcare.faces.intake.numeral import possible_amounts, possible_numbers


@pytest.mark.parametrize(
    ("text", "decimal", "numbers"),
    [
        ("412", ".", (412.0,)),
        ("-3", ".", (-3.0,)),
        ("\N{MINUS SIGN}3", ".", (-3.0,)),
        ("+3.5", ".", (3.5,)),
        (".5", ".", (0.5,)),
        ("1,5", ",", (1.5,)),
        ("1,5", ".", (1.5,)),
        ("1.5", ",", (1.5,)),
        ("1,234.5", ".", (1234.5,)),
        ("1.234,5", ".", (1234.5,)),
        ("1.234,5", ",", (1234.5,)),
        ("1,234,567", ".", (1234567.0,)),
        ("1.234.567", ",", (1234567.0,)),
        ("12 345,5", ",", (12345.5,)),
        ("12\u202f345.5", ".", (12345.5,)),
        ("1'234.5", ".", (1234.5,)),
        ("0.125", ",", (0.125,)),
        ("1234.567", ",", (1234.567,)),
        ("1,2345", ".", (1.2345,)),
    ],
)
def test_a_number_that_can_mean_one_thing_is_read(text, decimal, numbers):
    assert possible_numbers(text, decimal) == numbers


@pytest.mark.parametrize(
    ("text", "decimal", "numbers"),
    [
        ("1,234", ".", (1.234, 1234.0)),
        ("1.234", ",", (1.234, 1234.0)),
        ("1,234", "", (1.234, 1234.0)),
        ("-1,234", ".", (-1.234, -1234.0)),
    ],
)
def test_a_number_that_can_mean_two_things_gives_both(text, decimal, numbers):
    assert possible_numbers(text, decimal) == numbers


def test_the_files_own_decimal_sign_settles_it():
    assert possible_numbers("1,234", ",") == (1.234,)
    assert possible_numbers("1.234", ".") == (1.234,)


@pytest.mark.parametrize(
    "text",
    ["", "-", "many", "12 m²", "1e5", "nan", "inf", "1,23,4", "1.2.3", "1,234.5.6", "١٢", "12 34"],
)
def test_what_is_no_number_gives_none(text):
    assert possible_numbers(text, ".") == ()


def test_amounts_keep_every_decimal_that_was_typed():
    assert possible_amounts("0.1", ".") == (Decimal("0.1"),)
    assert [str(each) for each in possible_amounts("1.234,50", ".")] == ["1234.50"]
    assert possible_amounts("-1,234", ".") == (Decimal("-1.234"), Decimal("-1234"))
    assert possible_amounts("many", ".") == ()
