import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.schedule.answers import SiteAnswers
from floorcare.ground.schedule.gather import LATE_DAYS, SiteNights, Stub, clock_minutes
from floorcare.ground.schedule.place import Placed, Wanted, crew_minutes, night_capacity, place
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from tests.builders import (
    ALL_PERMITS,
    DAY,
    TODAY,
    a_branch,
    a_due,
    a_line,
    a_night,
    nights_of,
    polished,
)

SURFACES = {zone: polished() for zone in ("A", "B", "C", "LANE")}
TRAVEL = 40


def ahead(days: int) -> date:
    return TODAY + days * DAY


def weeknights(first: int = 1, last: int = 60, **more: object) -> SiteNights:
    on = [ahead(n) for n in range(first, last + 1)]
    return nights_of([a_night(day, **more) for day in on if day.weekday() < 5])  # type: ignore[arg-type]


def wanted(
    *dues: Due,
    night: date,
    site: SiteNights | None = None,
    stands_on: date | None = None,
    pinned: bool = False,
) -> Wanted:
    nights = site or weeknights()
    lines = tuple(a_line(due) for due in dues)
    earliest, latest = max(d.earliest for d in dues), min(d.latest for d in dues)
    minutes = clock_minutes(lines, nights.people, SURFACES)
    stub = Stub(
        site=dues[0].site,
        night=next((n for n in nights.nights if n.on == night), a_night(night)),
        lines=lines,
        earliest=night if pinned else earliest,
        latest=night if pinned else latest,
        minutes=minutes,
    )
    return Wanted(
        stub=stub,
        stands_on=stands_on,
        load=minutes + TRAVEL,
        site=nights,
        surfaces=SURFACES,
    )


def a_clean(site: str, minutes: int, first: int, target: int, last: int, zone: str = "A") -> Due:
    return a_due(
        Work.CLEAN,
        site=site,
        zone=zone,
        minutes=minutes,
        earliest=ahead(first),
        target=ahead(target),
        latest=ahead(last),
    )


def loads(placed: Placed, used: dict[date, int]) -> Counter[date]:
    total = Counter(used)
    for stub in placed.stubs:
        total[stub.night.on] += stub.minutes + TRAVEL
    return total


def one_crew(**more: object) -> Branch:
    return a_branch(**{"crews": 1, "shift_minutes": 480, "reserve_share": 0.0, **more})


def test_a_branch_s_night_is_its_crews_shifts_less_the_reserve_for_calls() -> None:
    branch = a_branch(crews=3, shift_minutes=400, reserve_share=0.25)
    assert crew_minutes(branch) == 900
    assert night_capacity(branch, TODAY) == 900
    assert night_capacity(branch, TODAY - DAY) == 0  # a Sunday


@pytest.mark.parametrize("seed", range(25))
def test_no_night_is_filled_above_its_crews_and_nothing_is_lost(seed: int) -> None:
    chance = random.Random(seed)
    branch = one_crew(crews=chance.randint(1, 2), reserve_share=0.12)
    asked: list[Wanted] = []
    for number in range(12):
        site, first = f"S{number:02}", chance.randint(1, 10)
        last = first + chance.randint(0, 8)
        target = chance.randint(first, last)
        dues = [
            a_clean(site, chance.randint(30, 500), first, target, last, zone)
            for zone in "ABC"[: chance.randint(1, 3)]
        ]
        night = next(n.on for n in weeknights(first=target).nights)
        one = wanted(*dues, night=night, stands_on=chance.choice([None, night + DAY]))
        asked.append(one)
    used = {ahead(n): chance.choice([0, 100, 600]) for n in range(1, 9)}
    placed = place(asked, branch, used)
    for on, minutes in loads(placed, used).items():
        assert minutes <= max(night_capacity(branch, on), used.get(on, 0))
    due_of = Counter((d.site, d.zone) for one in asked for d in (p.due for p in one.stub.lines))
    lines = [(stub.site, line.zone) for stub in placed.stubs for line in stub.lines]
    left = [(u.due.site, u.due.zone) for u in placed.unplaced]
    assert Counter([*lines, *left]) == due_of
    for stub in placed.stubs:
        for line in stub.lines:
            assert line.due.earliest <= stub.night.on <= line.due.latest + (LATE_DAYS + 9) * DAY
            assert line.due.recheck == (stub.night.on > line.due.latest)
    assert placed.over_after == sum(
        max(0, minutes - night_capacity(branch, on)) for on, minutes in used.items()
    )
    assert place(asked[::-1], branch, used) == placed


def test_with_room_enough_every_visit_has_the_night_it_wished() -> None:
    asked = [wanted(a_clean(f"S{n}", 60, 1, 2, 9), night=ahead(2)) for n in range(4)]
    placed = place(asked, a_branch(crews=9), {})
    assert [stub.night.on for stub in placed.stubs] == [ahead(2)] * 4
    assert placed.over_before == placed.over_after == 0


def test_what_is_too_much_for_a_night_moves_inside_its_window_to_the_nearest() -> None:
    asked = [wanted(a_clean(f"S{n}", 600, 1, 2, 9), night=ahead(2)) for n in range(3)]
    assert {one.load for one in asked} == {380}
    placed = place(asked, one_crew(), {})
    assert sorted(stub.night.on for stub in placed.stubs) == [ahead(1), ahead(2), ahead(3)]
    assert placed.over_before == 3 * 380 - 480
    assert placed.over_after == 0
    assert not any(line.due.recheck for stub in placed.stubs for line in stub.lines)


def test_a_visit_that_stands_keeps_its_night_before_a_newcomer_gets_it() -> None:
    new = wanted(a_clean("A-NEW", 600, 2, 2, 2), night=ahead(2))
    old = wanted(a_clean("Z-OLD", 600, 1, 3, 9), night=ahead(3), stands_on=ahead(2))
    placed = place([new, old], one_crew(), {})
    nights = {stub.site: stub.night.on for stub in placed.stubs}
    assert nights["Z-OLD"] == ahead(2)
    assert nights["A-NEW"] > ahead(2)


def test_a_standing_night_outside_the_window_is_not_kept() -> None:
    one = wanted(a_clean("S", 60, 3, 4, 9), night=ahead(4), stands_on=ahead(2))
    assert place([one], one_crew(), {}).stubs[0].night.on == ahead(4)


def test_what_cannot_move_goes_before_what_can_and_what_is_pressing_before_both() -> None:
    free = wanted(a_clean("A", 600, 1, 2, 9), night=ahead(2))
    fixed = wanted(a_clean("B", 600, 2, 2, 2), night=ahead(2))
    nights = {s.site: s.night.on for s in place([free, fixed], one_crew(), {}).stubs}
    assert nights == {"A": ahead(1), "B": ahead(2)}
    guarded = a_due(
        Work.CLEAN, site="C", zone="A", minutes=600, target=ahead(2), latest=ahead(9),
        earliest=ahead(1), rule="slip guard",
    )  # fmt: skip
    third = wanted(guarded, night=ahead(2))
    nights = {s.site: s.night.on for s in place([free, fixed, third], one_crew(), {}).stubs}
    assert nights["C"] == ahead(2)
    assert nights["B"] > ahead(2)


def test_a_visit_that_finds_no_room_in_its_window_comes_late_and_is_marked() -> None:
    busy = {ahead(n): 480 for n in range(1, 10)}
    placed = place([wanted(a_clean("S", 60, 1, 2, 3), night=ahead(2))], one_crew(), busy)
    stub = placed.stubs[0]
    assert stub.night.on == ahead(10)
    assert stub.lines[0].due.recheck


def test_of_late_nights_one_the_customer_offered_comes_first() -> None:
    busy = {ahead(n): 480 for n in range(1, 10)}
    due = a_clean("S", 60, 1, 2, 3)
    offered = frozenset({(ahead(15), due.zone, due.work)})
    site = replace(weeknights(), answers=SiteAnswers(offered=offered))
    placed = place([wanted(due, night=ahead(2), site=site)], one_crew(), busy)
    assert placed.stubs[0].night.on == ahead(15)


def test_what_finds_no_room_at_all_is_named_with_why_and_mend() -> None:
    busy = {ahead(n): 480 for n in range(1, 61)}
    one = wanted(a_clean("S", 60, 1, 2, 3), night=ahead(2))
    placed = place([one], one_crew(), busy)
    assert placed.stubs == ()
    unplaced = placed.unplaced[0]
    assert unplaced.due == one.stub.lines[0].due
    assert unplaced.why.startswith("branch EAST has 480 crew-minutes on a night")
    assert f"has the {one.load} it takes left" in unplaced.why
    assert unplaced.mend == f"one more crew on {ahead(2)}, or {one.load} min of overtime"


def test_a_visit_too_full_for_any_night_is_split_by_zones_before_it_is_given_up() -> None:
    dues = [a_clean("S", 500, 1, 2, 9, zone) for zone in ("A", "B")]
    one = wanted(*dues, night=ahead(2))
    assert one.load > 480
    placed = place([one], one_crew(), {})
    assert placed.unplaced == ()
    assert [[line.zone for line in stub.lines] for stub in placed.stubs] in (
        [["A"], ["B"]],
        [["B"], ["A"]],
    )
    assert len({stub.night.on for stub in placed.stubs}) == 2


def test_a_visit_moves_only_to_nights_that_permit_it_and_are_long_enough() -> None:
    due = replace(a_clean("S", 600, 1, 2, 9), needs=frozenset({"loud"}))
    nights = nights_of(
        [
            a_night(ahead(1)),
            a_night(ahead(2), permits=frozenset({"wet"})),
            a_night(ahead(3), minutes=200),
            a_night(ahead(4), permits=ALL_PERMITS),
        ]
    )
    placed = place([wanted(due, night=ahead(1), site=nights)], one_crew(), {ahead(1): 400})
    assert [stub.night.on for stub in placed.stubs] == [ahead(4)]


def test_one_site_is_not_visited_twice_on_a_night() -> None:
    first = wanted(a_clean("S", 60, 1, 2, 2), night=ahead(2))
    second = wanted(a_clean("S", 500, 1, 3, 3, "B"), night=ahead(3))
    placed = place([first, second], one_crew(), {ahead(3): 300})
    assert sorted(stub.night.on for stub in placed.stubs) == [ahead(1), ahead(2)]


def minutes_of(stubs: Sequence[Stub]) -> list[int]:
    return [stub.minutes for stub in stubs]


def test_a_visit_takes_as_long_wherever_it_goes() -> None:
    one = wanted(a_clean("S", 61, 1, 2, 9), night=ahead(2))
    assert minutes_of(place([one], one_crew(), {ahead(2): 480}).stubs) == [one.stub.minutes]
