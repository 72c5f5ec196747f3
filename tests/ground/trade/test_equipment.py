from datetime import date
from decimal import Decimal
from itertools import permutations

import pytest

from floorcare.ground.trade.equipment import (
    Calibration,
    Instrument,
    MachinePlace,
    MeterBridge,
    OwnedMachine,
    Rate,
    RateKind,
    StockEntry,
    StockMove,
    Supply,
    stock_on,
)
from tests.builders import DAY, TODAY

COUNTED, RECEIVED, USED = StockMove.COUNTED, StockMove.RECEIVED, StockMove.USED


def entry(ago: int, move: StockMove, quantity: float, material: str = "protector") -> StockEntry:
    return StockEntry(
        branch="EAST", material=material, on=TODAY - ago * DAY, move=move, quantity=quantity
    )


def a_rate(**more: object) -> Rate:
    whole = {
        "branch": "EAST",
        "kind": RateKind.LABOUR_HOUR,
        "amount": Decimal("31.50"),
        "currency": "EUR",
        "from_on": date(2026, 1, 1),
        **more,
    }
    return Rate(**whole)  # type: ignore[arg-type]


def test_a_machine_stands_where_it_was_put_and_works_there_unless_it_is_out_of_order() -> None:
    base = MachinePlace(branch="EAST", site="", from_on=TODAY - 9 * DAY, to_on=TODAY)
    away = MachinePlace(branch="", site="NORTH", from_on=TODAY + 2 * DAY)
    machine = OwnedMachine(
        code="P1",
        kind="planetary_polisher",
        name="Polisher 1",
        places=(base, away),
        out_of_order=((TODAY - 3 * DAY, TODAY - 2 * DAY), (TODAY + 4 * DAY, TODAY + 4 * DAY)),
    )
    places = [machine.place_on(TODAY + n * DAY) for n in (-10, -9, 0, 1, 2)]
    assert places == [None, base, base, None, away]
    works = {n: machine.works_on(TODAY + n * DAY) for n in (-10, -4, -3, -2, -1, 1, 3, 4, 5)}
    assert [n for n, in_order in works.items() if in_order] == [-4, -1, 3, 5]


def test_an_instrument_is_calibrated_on_the_days_a_calibration_covers() -> None:
    meter = Instrument(
        code="GM-1",
        name="Gloss meter",
        measure="gloss",
        calibrations=(
            Calibration(done_on=date(2025, 1, 10), valid_to=date(2026, 1, 9)),
            Calibration(done_on=date(2026, 2, 1), valid_to=date(2027, 1, 31)),
        ),
    )
    days = (date(2025, 1, 9), date(2025, 1, 10), date(2026, 1, 9), date(2026, 1, 20), TODAY)
    assert [meter.calibrated_on(day) for day in days] == [False, True, True, False, True]
    assert not Instrument(code="GM-2", name="Old", measure="gloss").calibrated_on(TODAY)


def test_a_calibration_that_runs_out_before_it_was_done_is_refused() -> None:
    assert Calibration(done_on=TODAY, valid_to=TODAY).valid_to == TODAY
    with pytest.raises(ValueError, match="valid to 2026-03-01, before 2026-03-02"):
        Calibration(done_on=TODAY, valid_to=TODAY - DAY)


@pytest.mark.parametrize(
    ("second", "stations", "said"),
    [("GM-1", 5, "needs two meters"), ("GM-2", 0, "at least one station")],
)
def test_a_bridge_between_one_meter_or_over_no_station_is_refused(
    second: str, stations: int, said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        MeterBridge(first="GM-1", second=second, on=TODAY, offset_gu=-1.2, stations=stations)


def test_stock_is_the_last_count_and_what_came_and_went_since() -> None:
    entries = (
        entry(30, RECEIVED, 40.0),
        entry(20, COUNTED, 25.0),
        entry(10, USED, 4.5),
        entry(5, RECEIVED, 20.0),
        entry(5, USED, 100.0, material="densifier"),
    )
    held = {
        ago: stock_on(entries, "protector", TODAY - ago * DAY) for ago in (31, 30, 20, 10, 5, 0)
    }
    assert held == {31: 0.0, 30: 40.0, 20: 25.0, 10: 20.5, 5: 40.5, 0: 40.5}
    assert stock_on(entries, "densifier", TODAY) == -100.0, "used, though nobody counted it"
    assert stock_on((), "protector", TODAY) == 0.0


def test_a_count_closes_its_day_in_whatever_order_the_entries_come() -> None:
    one_day = (entry(3, COUNTED, 12.0), entry(3, RECEIVED, 20.0), entry(3, USED, 2.0))
    for entries in permutations(one_day):
        assert stock_on(entries, "protector", TODAY) == 12.0


def test_less_than_nothing_is_no_quantity() -> None:
    with pytest.raises(ValueError, match=r"quantity -0\.1: allowed 0 or more"):
        entry(0, USED, -0.1)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"amount": Decimal("-1")}, "rate -1: allowed 0 or more"),
        ({"currency": "eur"}, "an ISO 4217 code"),
        ({"currency": "EURO"}, "an ISO 4217 code"),
        ({"currency": "E1R"}, "an ISO 4217 code"),
        ({"to_on": date(2025, 12, 31)}, "ends 2025-12-31 before it starts 2026-01-01"),
    ],
)
def test_a_rate_that_cannot_be_is_refused(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        a_rate(**wrong)


def test_a_rate_of_one_day_and_one_of_nothing_stand() -> None:
    assert a_rate(to_on=date(2026, 1, 1), amount=Decimal(0)).what == ""


def test_a_machine_stands_in_one_place_and_its_days_run_forwards():
    with pytest.raises(ValueError, match="one of the two"):
        MachinePlace(branch="B", site="S", from_on=date(2026, 3, 2))
    with pytest.raises(ValueError, match="one of the two"):
        MachinePlace(branch="", site="", from_on=date(2026, 3, 2))
    with pytest.raises(ValueError, match="before it starts"):
        OwnedMachine(
            code="M", kind="k", name="n", out_of_order=((date(2026, 3, 2), date(2026, 3, 1)),)
        )


@pytest.mark.parametrize(
    ("wrong", "said"), [({"pack": 0}, "pack"), ({"lead_days": -1}, "lead"), ({"reserve": -1}, "re")]
)
def test_a_supply_that_could_not_be_bought_is_refused(wrong: dict[str, float], said: str) -> None:
    whole: dict[str, object] = {"branch": "EAST", "material": "protector", "pack": 20.0, **wrong}
    with pytest.raises(ValueError, match=said):
        Supply(**whole)  # type: ignore[arg-type]
