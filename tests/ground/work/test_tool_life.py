from datetime import date

import pytest
from scipy.integrate import quad

from floorcare.ground.trade.equipment import StockEntry, StockMove
from floorcare.ground.work.tool_life import (
    BAND,
    ToolRecord,
    learn_tool_life,
    pieces_used,
    span_of,
)


def moved(day: int, move: StockMove, quantity: float, material: str = "pad") -> StockEntry:
    return StockEntry(
        branch="EAST",
        material=material,
        on=date(2026, 3, day),
        move=move,
        quantity=quantity,
        unit="pieces",
    )


ENTRIES = (
    moved(2, StockMove.USED, 7),  # used up by work before the record began
    moved(2, StockMove.COUNTED, 20),
    moved(9, StockMove.USED, 2),
    moved(20, StockMove.USED, 3),
    moved(25, StockMove.COUNTED, 15),
    moved(10, StockMove.USED, 9, "other"),
)


def test_the_record_runs_from_the_first_entry_to_the_last_use():
    span = span_of(ENTRIES, "pad")
    assert span == (date(2026, 3, 2), date(2026, 3, 20))
    assert pieces_used(ENTRIES, "pad", after=span[0], to=span[1]) == 5


@pytest.mark.parametrize("entries", [(), ENTRIES[:2], ENTRIES[1:2]])
def test_nothing_used_since_the_first_entry_is_no_record(entries):
    assert span_of(entries, "pad") is None


def test_a_typed_life_weighs_as_two_sets():
    life = learn_tool_life("pad", 1000.0, ToolRecord(sets=3, worked_m2=6000.0))
    assert life.life_m2 == pytest.approx((2 * 1000 + 6000) / 5)
    assert (life.known_by, life.sets) == ("typed and learned", 3)


def test_much_use_outweighs_what_was_typed():
    life = learn_tool_life("pad", 1000.0, ToolRecord(sets=400, worked_m2=1_200_000.0))
    assert life.life_m2 == pytest.approx(3000, rel=0.01)
    few = learn_tool_life("pad", 1000.0, ToolRecord(sets=4, worked_m2=12_000.0))
    assert few.high_m2 - few.low_m2 > 5 * (life.high_m2 - life.low_m2)


def test_work_on_which_no_set_was_used_up_lengthens_a_typed_life():
    longer = learn_tool_life("pad", 1000.0, ToolRecord(sets=0, worked_m2=3000.0))
    assert longer.life_m2 == pytest.approx(2500)


def test_what_is_typed_learned_or_neither_is_said():
    assert learn_tool_life("pad", 1000.0, None).known_by == "typed"
    assert learn_tool_life("pad", None, ToolRecord(sets=1, worked_m2=900)).known_by == "learned"
    nothing = learn_tool_life("pad", None, ToolRecord(sets=0, worked_m2=900))
    assert (nothing.known_by, nothing.life_m2, nothing.low_m2) == ("not known", None, None)


def test_the_band_holds_nine_in_ten_of_prior_times_likelihood():
    # posterior of one over the life by integrating Gamma(2, 2L) × Poisson(n | rate M) directly
    sets, worked, typed = 3.0, 6.0, 1.0
    from math import exp

    def weight(rate):
        return rate ** (2 - 1) * exp(-rate * 2 * typed) * rate**sets * exp(-rate * worked)

    life = learn_tool_life("pad", typed, ToolRecord(sets=sets, worked_m2=worked))
    whole = quad(weight, 0, 20)[0]
    inside = quad(weight, 1 / life.high_m2, 1 / life.low_m2)[0]
    assert inside / whole == pytest.approx(BAND[1] - BAND[0], abs=1e-6)
    assert quad(lambda r: r * weight(r), 0, 20)[0] / whole == pytest.approx(1 / life.life_m2)


def test_less_than_nothing_is_no_record():
    with pytest.raises(ValueError, match="allowed 0 or more"):
        ToolRecord(sets=-1, worked_m2=5)
