import random
from dataclasses import replace
from itertools import permutations

import pytest

from floorcare.ground.trade.surface import NO_EFFECT, Rung, Step
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import ARRIVE_MINUTES, PACK_MINUTES, SETUP_MINUTES
from floorcare.ground.work.timeline import (
    ISOLATION_MINUTES,
    TimedLine,
    TimedStep,
    ZoneClosing,
    lines_minutes,
    sequence_key,
    timeline,
    visit_clock_minutes,
)
from floorcare.store.surfaces import load_surfaces

CONCRETE = load_surfaces()["polished_concrete"]


def line(zone: str, *steps: Step, work: Work = Work.RECOAT) -> TimedLine:
    rung = replace(CONCRETE.methods[work], steps=steps)
    return TimedLine(zone=zone, work=work, rung=rung, area_m2=100.0)


def step(minutes: int, wait: int = 0, *, machine: str = "", people: int = 1) -> Step:
    return Step(
        name="step", minutes_fixed=minutes, wait_minutes=wait, machine=machine, people=people
    )


def real(zone: str, work: Work, area_m2: float) -> TimedLine:
    return TimedLine(zone=zone, work=work, rung=CONCRETE.methods[work], area_m2=area_m2)


def spans(closing: ZoneClosing) -> list[tuple[int, int]]:
    return [
        (s.starts_minute - ARRIVE_MINUTES, s.ends_minute - ARRIVE_MINUTES) for s in closing.steps
    ]


def makespan(closings: tuple[ZoneClosing, ...]) -> int:
    return visit_clock_minutes(closings) - SETUP_MINUTES


def test_a_wait_in_one_zone_is_used_in_another() -> None:
    lines = (line("A", step(10, wait=30), step(10)), line("B", step(25)))
    a, b = timeline(lines, starts_minute=0, people=1)
    assert spans(a) == [(0, 10), (40, 50)]
    assert spans(b) == [(10, 35)]


def test_a_zone_closes_before_its_first_step_and_reopens_when_its_last_wait_is_over() -> None:
    (closing,) = timeline((line("A", step(10, wait=30)),), starts_minute=1300, people=1)
    starts = 1300 + ARRIVE_MINUTES
    assert closing.closes_minute == starts - ISOLATION_MINUTES
    assert (closing.starts_minute, closing.ends_minute) == (starts, starts + 10)
    assert closing.reopens_minute == starts + 40
    assert visit_clock_minutes((closing,)) == ARRIVE_MINUTES + 40 + PACK_MINUTES


def test_hand_work_goes_faster_with_more_people_and_a_machine_does_not() -> None:
    lines = (line("A", step(60), step(60, machine="burnisher")),)
    (closing,) = timeline(lines, starts_minute=0, people=3)
    assert spans(closing) == [(0, 20), (20, 80)]


def test_two_zones_are_never_burnished_with_the_one_burnisher_at_once() -> None:
    lines = tuple(line(zone, step(30, machine="burnisher")) for zone in "AB")
    a, b = timeline(lines, starts_minute=0, people=2)
    assert (spans(a), spans(b)) == ([(0, 30)], [(30, 60)])


def test_a_step_for_two_takes_one_person_twice_as_long() -> None:
    lines = (line("A", step(30, people=2, machine="rotary")),)
    assert spans(timeline(lines, starts_minute=0, people=1)[0]) == [(0, 60)]
    assert spans(timeline(lines, starts_minute=0, people=2)[0]) == [(0, 30)]


def test_in_one_zone_the_trades_sequence_rules_not_the_order_of_the_lines() -> None:
    works = [Work.SLIP_TEST, Work.BURNISH, Work.RECOAT, Work.CLEAN, Work.REPOLISH]
    lines = tuple(TimedLine(zone="A", work=work, minutes=10) for work in works)
    (closing,) = timeline(lines, starts_minute=0, people=1)
    assert [s.work for s in closing.steps] == [
        Work.CLEAN,
        Work.REPOLISH,
        Work.RECOAT,
        Work.BURNISH,
        Work.SLIP_TEST,
    ]


def test_every_kind_of_work_has_its_place_in_the_sequence() -> None:
    assert len({sequence_key(work) for work in Work}) == len(Work)


def test_typed_minutes_make_one_step_and_the_floor_still_dries() -> None:
    typed = replace(real("A", Work.DEEP_SCRUB, 100.0), minutes=90)
    (closing,) = timeline((typed,), starts_minute=0, people=2)
    assert [s.name for s in closing.steps] == ["deep scrub"]
    assert spans(closing) == [(0, 45)]
    assert closing.reopens_minute - closing.ends_minute == 30


def test_work_without_method_area_or_minutes_takes_its_plain_time() -> None:
    lines = (TimedLine(zone="A", work=Work.READING_ROUND),)
    assert spans(timeline(lines, starts_minute=0, people=1)[0]) == [(0, 7)]


def test_a_visit_without_lines_closes_nothing() -> None:
    assert timeline((), starts_minute=0, people=2) == ()
    assert visit_clock_minutes(()) == 0


def test_nobody_cannot_work() -> None:
    with pytest.raises(ValueError, match="allowed 1 or more"):
        timeline((), starts_minute=0, people=0)


@pytest.mark.parametrize("people", [1, 2, 3])
def test_a_real_night_overlaps_neither_people_nor_machines_and_keeps_every_wait(
    people: int,
) -> None:
    lines = (
        real("A", Work.RECOAT, 180.0),
        real("B", Work.BURNISH, 400.0),
        real("C", Work.CLEAN, 250.0),
        real("B", Work.CLEAN, 400.0),
        TimedLine(zone="C", work=Work.READING_ROUND),
    )
    closings = timeline(lines, starts_minute=1320, people=people)
    steps = [s for closing in closings for s in closing.steps]
    assert closings == timeline(lines, starts_minute=1320, people=people)
    for minute in {s.starts_minute for s in steps}:
        now: list[TimedStep] = [s for s in steps if s.starts_minute <= minute < s.ends_minute]
        machines = [s.machine for s in now if s.machine]
        assert sum(s.people for s in now) <= people
        assert len(machines) == len(set(machines))
    for closing in closings:
        for before, after in zip(closing.steps, closing.steps[1:], strict=False):
            assert after.starts_minute >= before.waits_until_minute


def test_waits_are_used_so_that_three_recoats_take_less_than_three_times_one() -> None:
    one = makespan(timeline((real("A", Work.RECOAT, 150.0),), starts_minute=0, people=1))
    three = tuple(real(zone, Work.RECOAT, 150.0) for zone in "ABC")
    assert makespan(timeline(three, starts_minute=0, people=1)) <= 0.75 * 3 * one


def shortest(chains: list[list[tuple[int, int]]]) -> int:
    """The least makespan of one person over every interleaving of the zones' steps."""
    best = 10**9
    slots = [zone for zone, chain in enumerate(chains) for _ in chain]
    for order in set(permutations(slots)):
        ready = [0] * len(chains)
        nth = [0] * len(chains)
        now = 0
        for zone in order:
            minutes, wait = chains[zone][nth[zone]]
            nth[zone] += 1
            now = max(now, ready[zone]) + minutes
            ready[zone] = now + wait
        best = min(best, max(ready))
    return best


def test_the_night_stays_near_the_best_of_every_interleaving() -> None:
    chance = random.Random(20260301)
    distances = []
    for _ in range(200):
        chains = [
            [(chance.randint(5, 40), chance.choice([0, 0, 15, 30])) for _ in range(2)]
            for _ in range(3)
        ]
        lines = tuple(line(str(z), *(step(m, w) for m, w in c)) for z, c in enumerate(chains))
        distances.append(makespan(timeline(lines, starts_minute=0, people=1)) / shortest(chains))
    # Measured: 1.014 of the exact least on average, 1.17 at worst, 81 % exact; two other seeds
    # gave 1.017 and 1.016, 1.21 and 1.20, 78 % and 83 %.
    assert min(distances) == 1.0
    assert sum(distances) / 200 < 1.02
    assert max(distances) < 1.25
    assert sum(distance == 1.0 for distance in distances) > 150


def test_the_longer_zone_goes_first_where_that_shortens_the_night_else_the_given_order() -> None:
    short, long = line("A", step(20)), line("B", step(20, wait=40), step(10))
    a, b = timeline((short, long), starts_minute=0, people=1)
    assert (spans(a), spans(b)) == ([(20, 40)], [(0, 20), (60, 70)])
    a, b = timeline((short, line("B", step(30))), starts_minute=0, people=1)
    assert (spans(a), spans(b)) == ([(0, 20)], [(20, 50)])


def test_a_zone_of_no_area_takes_no_time() -> None:
    rung: Rung = replace(
        CONCRETE.methods[Work.CLEAN],
        effect=NO_EFFECT,
        steps=(Step(name="mop", rate_m2_per_hour=9.0),) * 3,
    )
    lines = (TimedLine(zone="A", work=Work.CLEAN, rung=rung, area_m2=0.0),)
    assert spans(timeline(lines, starts_minute=0, people=1)[0]) == [(0, 0)] * 3


def test_the_minutes_of_lines_are_those_of_their_timeline_asked_for_once_or_again() -> None:
    lines = (real("A", Work.RECOAT, 200.0), real("B", Work.BURNISH, 90.0))
    wanted = visit_clock_minutes(timeline(lines, starts_minute=0, people=2))
    assert [lines_minutes(lines, 2), lines_minutes(lines, 2)] == [wanted, wanted]
    assert lines_minutes(lines, 1) > wanted
