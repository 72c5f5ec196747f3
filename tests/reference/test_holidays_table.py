"""Public holidays against tables published by governments."""

from datetime import date

from floorcare.ground.worktime.holidays import public_holidays

# Source: U.S. Office of Personnel Management, "Federal Holidays", table for 2023 (read in the
# reprint at j4neiros.us/2023/12/federal-holidays-2023.html). Days marked * there are the observed
# ones of holidays on a weekend: New Year's Day (Sunday) and Veterans Day (Saturday).
US_2023 = {
    date(2023, 1, 2): "New Year's Day",
    date(2023, 1, 16): "Martin Luther King",
    date(2023, 2, 20): "Washington's Birthday",
    date(2023, 5, 29): "Memorial Day",
    date(2023, 6, 19): "Juneteenth National Independence Day",
    date(2023, 7, 4): "Independence Day",
    date(2023, 9, 4): "Labor Day",
    date(2023, 10, 9): "Columbus Day",
    date(2023, 11, 10): "Veterans Day",
    date(2023, 11, 23): "Thanksgiving Day",
    date(2023, 12, 25): "Christmas Day",
}

# Source: GOV.UK bank holidays for 2026 (read in the reprint at
# visaverge.com/guides/uk-bank-holidays-2026-complete-list).
ENGLAND_2026 = {
    date(2026, 1, 1),
    date(2026, 4, 3),
    date(2026, 4, 6),
    date(2026, 5, 4),
    date(2026, 5, 25),
    date(2026, 8, 31),
    date(2026, 12, 25),
    date(2026, 12, 28),
}
SCOTLAND_2026 = (ENGLAND_2026 - {date(2026, 4, 6), date(2026, 8, 31)}) | {
    date(2026, 1, 2),
    date(2026, 8, 3),
    date(2026, 11, 30),
}
BOXING_DAY_ITSELF = date(2026, 12, 26)


def test_federal_holidays_of_the_united_states_2023() -> None:
    ours = public_holidays("US", "", [2023])
    for on, name in US_2023.items():
        assert name in ours[on]
    weekends = {date(2023, 1, 1), date(2023, 11, 11)}
    assert set(ours) == set(US_2023) | weekends


def test_bank_holidays_differ_between_england_and_scotland_2026() -> None:
    assert set(public_holidays("GB", "ENG", [2026])) == ENGLAND_2026 | {BOXING_DAY_ITSELF}
    scotland = set(public_holidays("GB", "SCT", [2026]))
    # a day proclaimed for that year alone may have come after the table; none may be missing
    assert scotland >= SCOTLAND_2026
    assert not scotland & (ENGLAND_2026 - SCOTLAND_2026)
