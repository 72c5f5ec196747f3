import random
from collections import Counter
from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.schedule.level.levelling import (
    levelled,
    place_levelled,
    standing_overload,
)
from floorcare.ground.schedule.place import Placed, Wanted, night_capacity, place
from floorcare.ground.trade.site import Branch
from floorcare.ground.worktime.window import week_of
from tests.builders import DAY, TODAY, a_branch
from tests.ground.schedule.levelled import TRAVEL, a_room, a_visit, asked, open_nights


def ahead(days: int) -> date:
    return TODAY + days * DAY


def one_crew(**more: object) -> Branch:
    return a_branch(**{"crews": 1, "shift_minutes": 480, "reserve_share": 0.0, **more})


def nights(placed: Placed) -> dict[str, date]:
    return {stub.site: stub.night.on for stub in placed.stubs}


def late_minutes(placed: Placed) -> int:
    return sum(s.minutes + TRAVEL for s in placed.stubs if s.night.on > s.latest)


def test_where_everything_fits_the_placing_s_plan_stays_as_it_is() -> None:
    visits = [asked(f"S{n}", 300, 1, 2, 9) for n in range(6)]
    first = place(visits, one_crew(), {})
    assert first.over_before > first.over_after == 0
    assert place_levelled(visits, one_crew(), {}) == first


def test_in_a_week_over_capacity_a_visit_that_may_move_makes_room_for_one_that_may_not() -> None:
    visits = [
        asked("A-FREE", 600, 1, 2, 9, stands_on=ahead(2)),
        asked("B-FIXED", 600, 2, 2, 2),
        *(asked(f"C{n}", 500, n, n, n) for n in (0, 1, 3, 4)),
        *(asked(f"D{n}", 100, n, n, n) for n in (1, 3, 4)),
    ]
    first, found = place(visits, one_crew(), {}), place_levelled(visits, one_crew(), {})
    assert nights(first)["B-FIXED"] > ahead(2)
    assert nights(found)["B-FIXED"] == ahead(2)
    assert week_of(nights(found)["A-FREE"]) == TODAY + 7 * DAY
    assert late_minutes(found) < late_minutes(first)
    assert found.over_before == first.over_before


def test_a_single_night_over_in_a_week_with_room_is_left_to_the_placing_unless_asked() -> None:
    visits = [
        asked("A-FREE", 600, 1, 2, 4, stands_on=ahead(2)),
        asked("B-FIXED", 600, 2, 2, 2),
    ]
    first = place(visits, one_crew(), {})
    assert nights(first) == {"A-FREE": ahead(2), "B-FIXED": ahead(3)}
    assert place_levelled(visits, one_crew(), {}) == first
    found = place_levelled(visits, one_crew(), {}, single_nights=True)
    assert nights(found) == {"A-FREE": ahead(1), "B-FIXED": ahead(2)}


def test_what_no_levelling_takes_away_is_told_with_the_bound() -> None:
    visits = [asked(f"S{n}", 600, 1, 2, 3) for n in range(8)]
    found = place_levelled(visits, one_crew(), {})
    lacking = 8 * visits[0].load - 3 * 480
    assert f"lacks {lacking:,} crew-minutes" in found.findings[0].problem
    assert f"no choice of nights comes below {lacking:,}" in found.findings[0].problem


def test_a_guarded_floor_keeps_the_night_the_placing_gave_it() -> None:
    guarded = asked("G", 600, 1, 2, 9, rule="slip guard")
    fixed = asked("B-FIXED", 600, 2, 2, 2)
    found = place_levelled([guarded, fixed], one_crew(), {}, single_nights=True)
    assert nights(found)["G"] == ahead(2)


def random_branch(seed: int) -> tuple[list[Wanted], Branch, dict[date, int]]:
    chance = random.Random(seed)
    branch = one_crew(crews=chance.randint(1, 2), reserve_share=0.12)
    visits = []
    for number in range(26):
        first = chance.randint(1, 12)
        last = first + chance.choice([0, 0, 2, 6])
        target = next(n.on for n in open_nights(first).nights)
        at = (target - TODAY).days
        last = max(last, at)
        site = f"S{number:02}"
        # some sites have two visits, on nights of their own
        visits.append(asked(site, chance.randint(100, 700), first, at, last))
    used = {ahead(n): chance.choice([0, 0, 200]) for n in range(1, 12)}
    return visits, branch, used


@pytest.mark.parametrize("seed", range(12))
def test_it_never_leaves_more_late_than_the_placing_and_loses_nothing(seed: int) -> None:
    visits, branch, used = random_branch(seed)
    first = place(visits, branch, used)
    found = place_levelled(visits, branch, used, single_nights=True)
    without = [sum(u.due.minutes for u in p.unplaced) for p in (found, first)]
    assert (without[0], late_minutes(found)) <= (without[1], late_minutes(first))
    lines = [(s.site, line.zone) for s in found.stubs for line in s.lines]
    left = [(u.due.site, u.due.zone) for u in found.unplaced]
    assert Counter([*lines, *left]) == Counter((v.stub.site, "A") for v in visits)
    load = Counter(used)
    for stub in found.stubs:
        load[stub.night.on] += stub.minutes + TRAVEL
        assert stub.night.on >= stub.earliest
        late = stub.night.on > stub.latest
        assert [line.due.recheck for line in stub.lines] == [late]
    for on, minutes in load.items():
        assert minutes <= max(night_capacity(branch, on), used.get(on, 0))
    assert load == Counter(found.load)


@pytest.mark.parametrize("seed", range(4))
def test_the_order_visits_come_in_changes_nothing(seed: int) -> None:
    visits, branch, used = random_branch(seed)
    found = place_levelled(visits, branch, used, single_nights=True)
    random.Random(seed).shuffle(visits)
    again = place_levelled(visits, branch, used, single_nights=True)
    assert again.stubs == found.stubs
    assert again.unplaced == found.unplaced
    assert again.findings == found.findings


def test_on_the_random_branches_levelling_does_bring_work_back_in_time() -> None:
    branches = [random_branch(seed) for seed in range(12)]
    before = sum(late_minutes(place(*each)) for each in branches)
    after = sum(late_minutes(place_levelled(*each, single_nights=True)) for each in branches)
    assert after < before


def test_visits_that_stand_and_take_more_than_there_is_are_named() -> None:
    used = {ahead(1): 700, ahead(5): 900}
    finding = standing_overload(one_crew(), used)[0]
    assert "220 crew-minutes more" in finding.problem
    assert f"1 night, the first on {ahead(1)}" in finding.problem
    found = place_levelled([asked("S", 60, 1, 2, 3)], one_crew(), used)
    assert found.findings == (finding,)
    assert len(found.stubs) == 1


def test_a_branch_without_crews_places_nothing_and_names_everything() -> None:
    visits = [asked(f"S{n}", 60, 1, 2, 9) for n in range(3)]
    found = place_levelled(visits, one_crew(crews=0), {})
    assert found.stubs == ()
    assert {u.due.site for u in found.unplaced} == {"S0", "S1", "S2"}


def test_ten_thousand_visits_asked_of_one_site_are_each_placed_or_named() -> None:
    nights_open = open_nights(1, 40)
    visits = [asked("S", 60, 1, 1 + n % 4, 5, nights=nights_open) for n in range(10_000)]
    found = place_levelled(visits, one_crew(), {})
    assert found.stubs
    assert len(found.stubs) + len(found.unplaced) == 10_000
    assert "crew-minutes for what is due" in found.findings[0].problem


def test_nights_come_back_in_the_order_visits_were_given() -> None:
    a, b = a_visit("A", 300, 0), a_visit("B", 300, 0, 1)
    assert levelled([a, b], a_room(400, 400)).nights == (ahead(0), ahead(1))
    assert levelled([b, a], a_room(400, 400)).nights == (ahead(1), ahead(0))


def test_where_too_many_may_move_it_goes_on_greedily_with_a_bound() -> None:
    visits = [a_visit(f"V{n:03}", 100, 0, 1, 2) for n in range(301)]
    found = levelled(visits, a_room(10_000, 10_000, 10_000))
    assert not found.proven
    assert found.bound_minutes == found.over_minutes == 100
    few = levelled(visits[:300], a_room(10_000, 10_000, 10_000))
    assert few.over_minutes == 0


def test_a_site_s_own_second_visit_is_never_put_on_the_same_night() -> None:
    first = asked("S", 300, 1, 2, 4)
    second = replace(asked("S", 300, 1, 3, 3), stands_on=None)
    third = asked("B", 700, 2, 2, 2)
    found = place_levelled([first, second, third], one_crew(), {}, single_nights=True)
    own = [stub.night.on for stub in found.stubs if stub.site == "S"]
    assert len(set(own)) == len(own) == 2
