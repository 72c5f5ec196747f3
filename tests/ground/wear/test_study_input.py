"""A study's arrays are lined up as said, and what is odd about them is named."""

import numpy as np
import pytest

from floorcare.ground.wear.study_input import (
    ALIKE_ROUNDS,
    MOST_NAMED,
    GivenFloors,
    GivenReadings,
    Stretch,
    TakenReadings,
    aligned,
    taken_readings,
)

ZONES, DAYS = 3, 10
NONE = np.zeros((ZONES, DAYS), dtype=bool)
FOOTFALL = 1000.0 * np.arange(ZONES * DAYS, dtype=np.float64).reshape(ZONES, DAYS)


def given(*rows: tuple[float, float, float, float, float]) -> GivenReadings:
    columns = [list(column) for column in zip(*rows, strict=True)] if rows else [[]] * 5
    return GivenReadings.of(*columns)


def floors(**change: object) -> GivenFloors:
    plain = {
        "footfall": FOOTFALL,
        "work": (NONE, NONE, NONE),
        "counted": 1,
        "traffic": 2,
        "today": 5,
        "opening": 0,
    }
    return GivenFloors.of(**{**plain, **change})  # type: ignore[arg-type]


def history(*, treated: tuple[tuple[int, int], ...] = (), today: int = 9) -> Stretch:
    burnish = NONE.copy()
    for zone, day in treated:
        burnish[zone, day] = True
    return aligned(FOOTFALL, (NONE, NONE, burnish), np.full(ZONES, today))[0]


def taken(readings: GivenReadings, **of: object) -> tuple[TakenReadings, list[str]]:
    past = history(**of)  # type: ignore[arg-type]
    found, findings = taken_readings(readings, past, np.full(ZONES, 9))
    return found, [finding.problem for finding in findings]


def test_one_number_stands_for_all_zones() -> None:
    found = floors(today=[5, 6, 7])
    assert found.today.tolist() == [5, 6, 7]
    assert found.traffic.tolist() == [2, 2, 2]
    assert found.counted.tolist() == [True] * 3
    assert found.unknown.tolist() == [False] * 3
    assert found.findings == ()


def test_footfall_keeps_its_precision_and_whole_numbers_become_others() -> None:
    assert floors(footfall=FOOTFALL.astype(np.float32)).footfall.dtype == np.float32
    assert floors(footfall=FOOTFALL.astype(np.int64)).footfall.dtype == np.float64
    assert floors(footfall=[1, 2, 3], work=([0, 0, 1],) * 3, today=1).footfall.shape == (1, 3)
    whole = floors(work=([[0] * DAYS] * ZONES, NONE.astype(int), NONE))
    assert [done.dtype for done in whole.work] == [np.bool_] * 3


def test_what_is_no_number_of_a_zone_is_named_and_the_safest_taken() -> None:
    found = floors(
        counted=[1.0, np.nan, 0.0],
        traffic=[3.0, np.nan, 0.0],
        opening=[0.0, np.nan, 0.0],
        today=[4.0, np.inf, 8.0],
    )
    assert found.counted.tolist() == [True, False, False]
    assert found.traffic.tolist() == [3, 1, 0]
    assert found.unknown.tolist() == [False, True, False]
    assert found.today.tolist() == [4, 8, 8]
    assert [finding.problem.split(" is")[0] for finding in found.findings] == [
        "traffic (zone 1)",
        "today (zone 1)",
        "counted (zone 1)",
        "opening (zone 1)",
    ]
    assert floors(today=[np.nan] * 3).today.tolist() == [0, 0, 0]


def test_a_treatment_that_is_no_number_is_named_and_not_done() -> None:
    recoat = NONE.astype(float)
    recoat[1, 4], recoat[2, 5] = 1.0, np.nan
    found = floors(work=(NONE, recoat, NONE))
    assert found.work[1].tolist() == (recoat == 1.0).tolist()
    assert [finding.problem for finding in found.findings] == [
        "recoat (zone 2, day 5) is no number; it is taken as not done"
    ]


@pytest.mark.parametrize("traffic", [-1, 4])
def test_a_traffic_level_that_is_none_is_refused(traffic: int) -> None:
    with pytest.raises(ValueError, match="traffic must be 0"):
        floors(traffic=traffic)


def test_readings_of_different_lengths_are_refused() -> None:
    with pytest.raises(ValueError, match="of one length"):
        GivenReadings.of([0, 0], [1], [50.0], [5], [False])


def test_with_one_today_history_ends_and_the_plan_begins_after_it() -> None:
    work = NONE.copy()
    work[0, 4], work[0, 6] = True, True
    past, ahead, asked = aligned(FOOTFALL, (work, NONE, NONE), np.full(ZONES, 5))
    assert past.thousand_passes.tolist() == (FOOTFALL[:, :6] / 1000).tolist()
    assert ahead.thousand_passes.tolist() == (FOOTFALL[:, 6:] / 1000).tolist()
    assert past.work[0][0].tolist() == [False] * 4 + [True, False]
    assert ahead.work[0][0].tolist() == [True] + [False] * 3
    assert past.start_day.tolist() == [0] * 3
    assert asked == ()


def test_with_several_todays_histories_end_and_plans_begin_together() -> None:
    burnish = NONE.copy()
    burnish[0, [1, 4]] = burnish[1, 9] = True
    past, ahead, _ = aligned(FOOTFALL, (NONE, NONE, burnish), np.array([2, 7, 9]))
    assert past.start_day.tolist() == [7, 2, 0]
    for zone, today in enumerate((2, 7, 9)):
        start = past.start_day[zone]
        lived = past.thousand_passes[zone, start:]
        assert lived.tolist() == (FOOTFALL[zone, : today + 1] / 1000).tolist()
        known = ahead.thousand_passes[zone, : DAYS - 1 - today]
        assert known.tolist() == (FOOTFALL[zone, today + 1 :] / 1000).tolist()
    assert ahead.thousand_passes.shape == (ZONES, 7)
    # Outside the days given nothing is done.
    assert np.argwhere(past.work[2]).tolist() == [[0, 8]]
    assert np.argwhere(ahead.work[2]).tolist() == [[0, 1], [1, 1]]
    assert past.treated(np.array([0, 0]), np.array([1, 2])).tolist() == [True, False]


@pytest.mark.parametrize(
    ("today", "work"),
    [
        (np.array([1, 2]), (NONE,)),
        (np.array([1, 2, 3]), (NONE[:, 1:],)),
        (np.array([-1, 2, 3]), (NONE,)),
        (np.array([1, 2, 10]), (NONE,)),
    ],
)
def test_days_that_do_not_fit_together_are_refused(
    today: np.ndarray, work: tuple[np.ndarray, ...]
) -> None:
    with pytest.raises(ValueError, match="must"):
        aligned(FOOTFALL, work, today)


def test_no_zone_at_all_is_refused() -> None:
    with pytest.raises(ValueError, match="must"):
        aligned(FOOTFALL[:0], (NONE[:0],), np.zeros(0, dtype=np.int64))


def test_footfall_that_is_none_is_named_with_its_value_and_the_mean_taken() -> None:
    wrong = FOOTFALL.copy()
    wrong[0, 3], wrong[1, 0], wrong[2] = np.nan, -8.0, np.nan
    past, _, asked = aligned(wrong, (NONE,), np.full(ZONES, 9))
    assert past.thousand_passes[0, 3] == pytest.approx(np.delete(FOOTFALL[0], 3).mean() / 1000)
    assert past.thousand_passes[1, 0] == pytest.approx(FOOTFALL[1, 1:].mean() / 1000)
    assert past.thousand_passes[2].tolist() == [0.0] * DAYS  # nothing known: nobody walks
    assert asked[0].problem.startswith("footfall (zone 0, day 3) is no footfall")
    assert (asked[0].value, asked[1].value) == ("nan", "-8.0")
    assert len(asked) == 12


def test_of_many_oddities_the_first_are_named_and_the_rest_counted() -> None:
    _, _, asked = aligned(np.full((ZONES, DAYS), np.nan), (NONE,), np.full(ZONES, 9))
    assert len(asked) == MOST_NAMED + 1
    assert asked[-1].problem.startswith(f"{ZONES * DAYS - MOST_NAMED} more of footfall")


def test_readings_are_sorted_by_zone_and_time_with_those_after_work_last() -> None:
    found, said = taken(
        given((1, 6, 52, 5, 1), (0, 8, 50, 3, 0), (1, 6, 51, 4, 0), (1, 2, 55, 2, 0)),
        treated=((1, 6),),
    )
    assert found.zone.tolist() == [0, 1, 1, 1]
    assert found.day.tolist() == [8, 2, 6, 6]
    assert found.after.tolist() == [False, False, False, True]
    assert np.exp(found.ln).tolist() == pytest.approx([50, 55, 51, 52])
    assert found.stations.tolist() == [3, 2, 4, 5]
    assert said == []


def test_after_a_treatment_that_was_not_is_before() -> None:
    found, _ = taken(given((1, 6, 52, 5, 1), (1, 7, 52, 5, 1)), treated=((1, 6),))
    assert found.after.tolist() == [True, False]


def test_a_zones_first_reading_on_day_nought_sees_its_eve() -> None:
    found, _ = taken(
        given((0, 0, 50, 1, 0), (0, 0, 51, 1, 1), (1, 0, 50, 1, 1), (2, 1, 50, 1, 0)),
        treated=((0, 0), (1, 0)),
    )
    assert found.zone.tolist() == [0, 0, 1, 2]
    assert found.day.tolist() == [-1, 0, 0, 1]
    assert found.after.tolist() == [True, True, True, False]


def test_readings_of_one_moment_are_one_round_with_the_middle_value() -> None:
    found, _ = taken(
        given(
            (0, 3, 50, 2, 0), (0, 3, 5, 3, 0), (0, 3, 52, 4, 0), (0, 4, 40, 1, 0), (0, 4, 90, 1, 0)
        )
    )
    assert np.exp(found.ln) == pytest.approx([50.0, 60.0])  # √(40·90)
    assert found.stations.tolist() == [9, 2]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ((3, 4, 50, 1, 0), "belongs to no zone"),
        ((-1, 4, 50, 1, 0), "belongs to no zone"),
        ((np.nan, 4, 50, 1, 0), "belongs to no zone"),
        ((0, -1, 50, 1, 0), "has no day from 0 on"),
        ((0, np.inf, 50, 1, 0), "has no day from 0 on"),
        ((0, 4, np.nan, 1, 0), "is no gloss"),
        ((0, 4, 0, 1, 0), "is no gloss"),
        ((0, 4, -50, 1, 0), "is no gloss"),
    ],
)
def test_a_reading_that_cannot_be_used_is_named_by_its_row(
    row: tuple[float, ...], said: str
) -> None:
    good = (1.0, 5.0, 50.0, 1.0, 0.0)
    found, problems = taken(given(good, row, good))  # type: ignore[arg-type]
    assert found.zone.tolist() == [1]
    assert len(problems) == 1
    assert problems[0].startswith("reading (row 1: zone")
    assert said in problems[0]


def test_readings_later_than_today_are_left_out_without_a_word() -> None:
    readings = given((0, 3, 50, 1, 0), (0, 7, 50, 1, 0), (1, 99, np.nan, 1, 0))
    found, findings = taken_readings(readings, history(today=5), np.full(ZONES, 5))
    assert found.day.tolist() == [3]
    assert findings == ()


def test_a_station_count_below_one_stands_for_one() -> None:
    found, _ = taken(given((0, 3, 50, 0, 0), (0, 4, 50, -2, 0), (0, 5, 50, np.nan, np.nan)))
    assert found.stations.tolist() == [1, 1, 1]


def test_zones_read_the_same_again_and_again_are_asked_about() -> None:
    rows = [(zone, day, 47.0, 1, 0) for zone in (0, 2) for day in range(1, 1 + ALIKE_ROUNDS)]
    rows += [(1, day, 47.0 + (day == 3), 1, 0) for day in range(1, 9)]
    found, problems = taken(given(*rows))
    assert len(problems) == 2
    assert ["zone 0" in problems[0], "zone 2" in problems[1]] == [True, True]
    assert found.zone.size == len(rows)
    _, few = taken(given(*rows[: ALIKE_ROUNDS - 1]))
    assert few == []


def test_no_readings_are_no_trouble() -> None:
    found, problems = taken(given())
    assert found.zone.size == found.stations.size == found.ln.size == 0
    assert problems == []
