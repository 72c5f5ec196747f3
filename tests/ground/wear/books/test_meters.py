"""Several meters: bridges and their sign, chains, epochs of meters nobody bridged, calibration."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from floorcare.ground.trade.equipment import Calibration, Instrument, MeterBridge
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.wear.books.meters import (
    NEW_METER,
    NO_METERS,
    Meters,
    OneLanguage,
    Unbridged,
    calibration_findings,
    in_one_language,
    main_meter,
    mixed_findings,
    unbridged_findings,
)
from tests.builders import DAY, TODAY, a_book, look_promised
from tests.store.sample import gloss

START = date(2026, 1, 5)


def read(days: int, value: float, meter: str, **more: object) -> Reading:
    return replace(gloss(START + days * DAY, value), instrument=meter, **more)


def bridge(first: str, second: str, offset_gu: float, days: int = 0) -> MeterBridge:
    return MeterBridge(
        first=first, second=second, on=START + days * DAY, offset_gu=offset_gu, stations=8
    )


def spoken(*readings: Reading, bridges: tuple[MeterBridge, ...] = ()) -> OneLanguage:
    return in_one_language("N/A", readings, "A", 60, Meters(bridges=bridges))


def values(found: OneLanguage) -> list[float]:
    return [round(r.value, 6) for r in found.readings]


@pytest.mark.parametrize(
    ("made", "value"), [(bridge("A", "B", 2.0), 48.0), (bridge("B", "A", 2.0), 52.0)]
)
def test_an_offset_is_second_minus_first_whichever_is_the_main_meter(
    made: MeterBridge, value: float
) -> None:
    found = spoken(read(0, 51.0, "A"), read(30, 50.0, "B"), bridges=(made,))
    assert values(found) == [51.0, value]
    assert found.epochs == ()
    assert [r.instrument for r in found.readings] == ["A", "B"]


def test_the_latest_bridge_up_to_the_day_holds_and_a_first_one_reaches_back() -> None:
    bridges = (bridge("A", "B", 1.0, days=10), bridge("A", "B", 3.0, days=40))
    found = spoken(*(read(d, 50.0, "B") for d in (5, 10, 39, 40, 90)), bridges=bridges)
    assert values(found) == [49.0, 49.0, 49.0, 47.0, 47.0]


def test_a_chain_serves_where_the_direct_bridge_is_missing_and_only_there() -> None:
    chain = (bridge("A", "C", 1.0), bridge("B", "C", 0.25))
    # B → C adds 0.25, C → A takes 1.0
    assert values(spoken(read(9, 50.0, "B"), bridges=chain)) == [49.25]
    direct = (*chain, bridge("A", "B", 5.0))
    assert values(spoken(read(9, 50.0, "B"), bridges=direct)) == [45.0]


def test_other_angles_measures_zeros_and_readings_without_a_meter_stay_as_they_are() -> None:
    odd = (
        read(1, 30.0, "B", geometry_deg=20),
        read(1, 40.0, "B", geometry_deg=0, measure=Measure.DOI),
        read(2, 0.0, "B"),
        read(3, 44.0, ""),
    )
    assert values(spoken(*odd, bridges=(bridge("A", "B", 2.0),))) == [30.0, 40.0, 0.0, 44.0]


def test_a_meter_nobody_bridged_opens_an_epoch_on_the_eve_of_its_first_reading() -> None:
    found = spoken(read(0, 50.0, "A"), read(30, 49.0, "B"), read(60, 48.5, "B"))
    assert values(found) == [50.0, 49.0, 48.5]
    assert found.epochs == (START + 29 * DAY,)
    assert found.unbridged == (Unbridged(zone="N/A", before="A", meter="B", on=START + 30 * DAY),)
    assert (NEW_METER.treats, NEW_METER.level_sd) == (False, 0.03)


def test_coming_back_to_the_old_meter_opens_another_epoch_and_the_day_before_is_not_in_it() -> None:
    found = spoken(read(0, 50.0, "A"), read(1, 49.0, "B"), read(20, 50.0, "A"))
    # the reading after work on day 0 stands before the epoch, so it cannot open before day 1
    assert found.epochs == (START + 1 * DAY, START + 19 * DAY)


def test_meters_bridged_among_themselves_are_one_language_apart_from_the_main_one() -> None:
    among = (bridge("B", "C", 1.0),)
    found = spoken(read(0, 50.0, "A"), read(9, 49.0, "B"), read(20, 48.0, "C"), bridges=among)
    assert found.epochs == (START + 8 * DAY,)


def test_a_round_read_with_two_unbridged_meters_keeps_the_one_before() -> None:
    mixed = spoken(read(0, 50.0, "A"), read(9, 47.0, "B"), read(9, 49.0, "A"), read(9, 46.0, "B"))
    assert values(mixed) == [50.0, 49.0]
    assert [r.value for r in mixed.mixed] == [47.0, 46.0]
    (asked,) = mixed_findings(mixed.mixed)
    assert "read on 2026-01-14 with B beside another meter" in asked.problem
    assert asked.value == "47.0 GU"


def test_one_unbridged_pair_is_asked_about_once_over_all_zones() -> None:
    found = unbridged_findings(
        [
            Unbridged(zone="N/B", before="A", meter="B", on=START + 5 * DAY),
            Unbridged(zone="N/A", before="A", meter="B", on=START),
            Unbridged(zone="N/A", before="B", meter="A", on=START + 9 * DAY),
            Unbridged(zone="N/C", before="A", meter="D", on=START),
        ]
    )
    assert len(found) == 2
    assert found[0].problem.startswith(
        "no bridge joins meter B to A, which it followed in zone N/A and 1 zone more, first on"
        " 2026-01-05"
    )
    assert found[0].mend.startswith("read A and B at the same stations on one day")


def test_the_main_meter_is_that_of_the_reference_else_the_most_used_else_the_earlier() -> None:
    few, many = (read(0, 60.0, "OLD"),), tuple(read(d, 50.0, "NEW") for d in (10, 20, 30))
    agreed = look_promised(reference_on=START)
    assert main_meter(a_book(readings=few + many, promises=(agreed,)), 60) == "OLD"
    assert main_meter(a_book(readings=few + many, promises=()), 60) == "NEW"
    assert main_meter(a_book(readings=few + many[:1], promises=()), 60) == "OLD"
    assert main_meter(a_book(readings=(), promises=()), 60) == ""


def test_a_bridge_is_not_known_before_it_was_made() -> None:
    meters = Meters(bridges=(bridge("A", "B", 1.0, days=10),))
    assert meters.known_on(START + 9 * DAY) == NO_METERS
    assert meters.known_on(START + 10 * DAY) == meters


def test_a_bridge_needs_a_number() -> None:
    with pytest.raises(ValueError, match="allowed a number"):
        bridge("A", "B", float("nan"))


def test_readings_without_calibration_are_asked_about_once_a_meter_and_not_when_old() -> None:
    covered = Calibration(done_on=START, valid_to=START + timedelta(days=20))
    meters = Meters(
        instruments=(
            Instrument(code="A", name="a", measure="gloss", calibrations=(covered,)),
            Instrument(code="B", name="b", measure="gloss"),
        )
    )
    readings = [read(d, 50.0, m) for m in "AB" for d in (10, 20, 21, 30)]
    readings.append(read(30, 50.0, "unknown"))
    found = calibration_findings(readings, meters, START + 15 * DAY)
    assert [f.value for f in found] == ["A", "B"]
    assert "covers 2 readings, first on 2026-01-26, last on 2026-02-04" in found[0].problem
    assert "covers 3 readings" in found[1].problem
    assert calibration_findings(readings, meters, TODAY) == ()


def test_a_wet_reading_opens_no_epoch() -> None:
    wet = read(9, 60.0, "B", state=SurfaceState.WET)
    assert spoken(read(0, 50.0, "A"), wet, read(20, 49.0, "A")).epochs == ()
