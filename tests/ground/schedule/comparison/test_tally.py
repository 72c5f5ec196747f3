import numpy as np
import pytest

from floorcare.ground.schedule.comparison.cost import VisitCosts
from floorcare.ground.schedule.comparison.tally import Count, nights_by_number
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import PLAIN_MINUTES, READING_MINUTES_SITE
from tests.builders import a_site_book
from tests.ground.schedule.compared import FUTURES, a_year, busy, parts_of

UNIT = ("NORTH", "C-1")
VISIT = VisitCosts(
    setup_minutes=60.0,
    travel_minutes=120.0,
    travel_money=20.0,
    labour_minute=0.5,
    currency="USD",
)


@pytest.fixture(scope="module")
def two():
    """Two lanes of one site."""
    (part,), _ = parts_of(a_year(a_site_book("NORTH", busy("EDGE"), busy("LANE"))))
    return part


def counting(part):
    return Count([UNIT], FUTURES, int(part.number.max()) + 1)


def test_two_zones_worked_on_one_night_are_one_visit(two):
    count = counting(two)
    nights = np.zeros((2, FUTURES, 5), dtype=bool)
    nights[:, :, 1] = True  # both lanes
    nights[0, :4, 3] = True  # one of them, in half of the futures
    count.add_nights(two, nights)
    tally = count.tally([VISIT])
    assert tally.closings.tolist() == [[2.0] * 4 + [1.0] * 4]
    assert tally.minutes[0, 0] == 2 * (60 + 120)
    assert tally.money[0, 0] == 2 * ((60 + 120) * 0.5 + 20)


def test_lines_cost_what_their_works_cost_on_their_zone(two):
    count = counting(two)
    done = np.zeros((1, 2, FUTURES), dtype=np.int64)
    done[0, 0], done[0, 1] = 2, 1
    count.add_work(two, done, [Work.RECOAT])
    tally, w = count.tally([VISIT]), two.works.index(Work.RECOAT)
    for name, column in (
        ("minutes", two.costs.minutes),
        ("money", two.costs.money),
        ("litres", two.costs.litres),
        ("water_l", two.costs.water_l),
    ):
        expected = 2 * column[w, 0] + column[w, 1]
        assert getattr(tally, name)[0] == pytest.approx(np.full(FUTURES, expected))


def test_a_round_on_a_night_of_work_needs_no_drive_of_its_own(two):
    alone, beside = counting(two), counting(two)
    for count in (alone, beside):
        count.add_rounds(two)
    rounds = int(two.reading_nights[0].sum())
    worked = np.broadcast_to(
        nights_by_number(two, two.reading_nights)[:, None], (2, FUTURES, beside.worked.shape[2])
    )
    beside.add_nights(two, worked)
    reading = rounds * (2 * PLAIN_MINUTES[Work.READING_ROUND] + READING_MINUTES_SITE)
    assert rounds == 2
    assert alone.tally([VISIT]).minutes[0, 0] == reading + rounds * 120
    assert alone.tally([VISIT]).closings.sum() == 0
    assert beside.tally([VISIT]).minutes[0, 0] == reading + rounds * (60 + 120)


def test_days_of_all_zones_of_a_unit_are_added(two):
    count = counting(two)
    count.add_days(two, np.full((2, FUTURES), 30))
    assert count.tally([VISIT]).kept_days.tolist() == [[60.0] * FUTURES]


def test_nights_are_counted_by_the_number_of_their_sites_opportunity(two):
    first = np.argmax(two.opportunity, axis=1)
    nights = np.zeros_like(two.opportunity)
    nights[:, first] = two.opportunity[:, first]
    numbered = nights_by_number(two, nights)
    assert numbered[:, 0].all()
    assert numbered.sum() == 2
