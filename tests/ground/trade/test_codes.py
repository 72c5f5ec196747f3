import pytest

from floorcare.ground.trade.codes import (
    CODE_LONGEST,
    NAME_LONGEST,
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
