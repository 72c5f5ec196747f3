from datetime import date

import pytest

from floorcare.ground.worktime.shut import ShutDay


def test_one_day_is_shut_from_itself_to_itself() -> None:
    day = ShutDay(from_on=date(2026, 5, 4), to_on=date(2026, 5, 4), why="fair")
    days = [date(2026, 5, 3), date(2026, 5, 4), date(2026, 5, 5)]
    assert [day.covers(on) for on in days] == [False, True, False]


def test_an_end_before_the_start_is_refused() -> None:
    with pytest.raises(ValueError, match="before it starts 2026-05-04"):
        ShutDay(from_on=date(2026, 5, 4), to_on=date(2026, 5, 3), why="")
