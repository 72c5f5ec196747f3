from datetime import date
from decimal import Decimal

import pytest

from floorcare.ground.trade.contract import (
    Contract,
    Exclusion,
    FeeKind,
    FeeLine,
    RenewalKind,
    Term,
    notice_on,
)

FIRST = {"starts_on": date(2024, 12, 1), "ends_on": date(2026, 11, 30)}
SECOND = {"starts_on": date(2026, 12, 1), "ends_on": date(2028, 11, 30)}


def a_term(**more: object) -> Term:
    whole = {
        **FIRST,
        "our_notice_days": 60,
        "their_notice_days": 90,
        "renewal": RenewalKind.OPTION,
        **more,
    }
    return Term(**whole)  # type: ignore[arg-type]


def test_each_side_has_its_own_last_day_to_give_notice() -> None:
    term = a_term()
    assert term.our_notice_on == date(2026, 10, 1)
    assert term.their_notice_on == date(2026, 9, 1)
    assert a_term(our_notice_days=0).our_notice_on == term.ends_on


def test_notice_counted_back_over_a_leap_day_counts_it() -> None:
    assert notice_on(date(2028, 3, 1), 1) == date(2028, 2, 29)
    assert notice_on(date(2028, 3, 31), 60) == date(2028, 1, 31)
    assert notice_on(date(2027, 3, 31), 60) == date(2027, 1, 30)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"ends_on": date(2024, 11, 30)}, "ends 2024-11-30 before it starts 2024-12-01"),
        ({"our_notice_days": -1}, "notice of -1 days: allowed 0 to 730"),
        ({"their_notice_days": 731}, "notice of 731 days: allowed 0 to 730"),
        ({"cap_on": date(2026, 11, 29)}, "after its cap 2026-11-29"),
    ],
)
def test_a_term_that_cannot_be_is_refused(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        a_term(**wrong)


def test_a_term_of_one_day_and_one_that_reaches_its_cap_stand() -> None:
    assert a_term(ends_on=FIRST["starts_on"]).starts_on == FIRST["starts_on"]
    assert a_term(cap_on=FIRST["ends_on"]).cap_on == FIRST["ends_on"]


def test_the_term_in_force_is_that_of_the_day_both_ends_included() -> None:
    first, second = a_term(), a_term(**SECOND)
    contract = Contract(
        code="C-1", customer="HARBOUR", name="Halls", currency="EUR", terms=(first, second)
    )
    assert contract.term_on(date(2024, 11, 30)) is None
    assert contract.term_on(date(2024, 12, 1)) is first
    assert contract.term_on(date(2026, 11, 30)) is first
    assert contract.term_on(date(2026, 12, 1)) is second
    assert contract.term_on(date(2028, 12, 1)) is None


def test_a_fee_is_not_negative_and_one_per_work_names_its_work() -> None:
    assert FeeLine(kind=FeeKind.MONTHLY, amount=Decimal(0)).work == ""
    with pytest.raises(ValueError, match=r"fee -0\.01: allowed 0 or more"):
        FeeLine(kind=FeeKind.MONTHLY, amount=Decimal("-0.01"))
    with pytest.raises(ValueError, match="needs its work"):
        FeeLine(kind=FeeKind.PER_WORK, amount=Decimal(180))
    assert FeeLine(kind=FeeKind.PER_WORK, amount=Decimal(180), work="recoat").work == "recoat"


def test_an_exclusion_ends_on_or_after_its_first_day() -> None:
    def excluded(to_on: date) -> Exclusion:
        return Exclusion(
            site="NORTH", zone="", from_on=date(2026, 3, 2), to_on=to_on, cause="refurbishment"
        )

    assert excluded(date(2026, 3, 2)).to_on == date(2026, 3, 2)
    with pytest.raises(ValueError, match="ends 2026-03-01 before it starts 2026-03-02"):
        excluded(date(2026, 3, 1))
