from datetime import date

import pytest

from floorcare.ground.trade.codes import (
    CODE_LONGEST,
    NAME_LONGEST,
    check_currency,
    check_span,
    code_problem,
    name_problem,
)


@pytest.mark.parametrize("code", ["N", "NORTH-1", "hall_b.2", "7", "A" * CODE_LONGEST])
def test_letters_digits_and_joining_signs_make_a_code(code: str) -> None:
    assert code_problem(code) == ""


@pytest.mark.parametrize(
    "code", ["", "-N", ".N", "Hall B", "N/1", "Bär", "N\n", "=1+1", "A" * (CODE_LONGEST + 1)]
)
def test_anything_else_is_told_why_it_is_none(code: str) -> None:
    assert code_problem(code) != ""


def test_a_name_may_have_signs_of_any_script_but_no_line_break_and_no_endless_length() -> None:
    assert name_problem("Halle Süd, 2. Stock – 北") == ""
    assert name_problem("N" * NAME_LONGEST) == ""
    assert "at most" in name_problem("N" * 100_000)
    assert "control characters" in name_problem("Hall\r\nB")
    assert "missing" in name_problem("  ")


def test_days_that_run_backwards_and_currencies_that_are_none_are_refused():
    check_span(date(2026, 3, 2), None)
    check_span(date(2026, 3, 2), date(2026, 3, 2))
    with pytest.raises(ValueError, match="ends 2026-03-01 before it starts 2026-03-02"):
        check_span(date(2026, 3, 2), date(2026, 3, 1))
    check_currency("EUR")
    for wrong in ("eur", "EURO", "E1R", ""):
        with pytest.raises(ValueError, match="ISO 4217"):
            check_currency(wrong)
