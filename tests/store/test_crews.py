from dataclasses import replace
from datetime import date

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.crew import Crew, CrewMember
from tests.store.means import CREW, HIRED, with_means
from tests.store.sample import LATER

AUTUMN = date(2026, 9, 1)


def changed(crew: Crew, **values: object) -> Portfolio:
    return Portfolio(crews=(replace(crew, **values),))  # type: ignore[arg-type]


def test_crews_come_back_with_members_and_shifts(put, read):
    put(with_means())
    assert read("crews") == (CREW,)


def test_a_member_from_a_later_day_ends_the_same_worker_s_earlier_time(put, read):
    put(with_means())
    again = CrewMember(worker="MOSS", from_on=AUTUMN)
    put(changed(CREW, members=(again,)), now=LATER)
    assert read("crews")[0].members == (
        CrewMember(worker="MOSS", from_on=HIRED, to_on=date(2026, 8, 31)),
        again,
        CREW.members[1],
    )


def test_another_start_on_the_same_weekdays_from_a_day_ends_the_shift_before(put, read):
    put(with_means())
    earlier = replace(CREW.shifts[0], starts_minute=1200, from_on=AUTUMN)
    put(changed(CREW, shifts=(earlier,)), now=LATER)
    old, new = read("crews")[0].shifts
    assert (old.to_on, new) == (date(2026, 8, 31), earlier)
    assert read("crews")[0].shift_on(date(2026, 9, 1)) == earlier


def test_a_mistyped_start_without_a_day_is_taken_back(put, read):
    put(with_means())
    right = replace(CREW.shifts[0], starts_minute=1320)
    counts = put(changed(CREW, shifts=(right,)), now=LATER)
    assert read("crews")[0].shifts == (right,)
    assert [c.what for c in counts["shifts"].changes] == ["withdrawn", "added"]


def test_a_member_nobody_knows_is_told(put):
    wrong = replace(CREW, members=(CrewMember(worker="GHOST", from_on=HIRED),))
    with pytest.raises(NotKnown, match='crew EAST-1: worker "GHOST" is not known'):
        put(replace(with_means(), crews=(wrong,)))
