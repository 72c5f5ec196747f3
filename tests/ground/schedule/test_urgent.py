from math import inf

from floorcare.ground.schedule.outlook import ZoneOutlook
from floorcare.ground.schedule.urgent import MOST, most_urgent
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Unplaced
from floorcare.ground.wear.evidence import EvidenceClass
from tests.builders import DAY, TODAY, a_due, a_line


def outlook(zone: str, early: float | None = None, *, guarded: bool = False) -> ZoneOutlook:
    return ZoneOutlook(
        site="NORTH",
        zone=zone,
        evidence=EvidenceClass.MEASURED,
        read_gu=None,
        read_on=None,
        gloss_gu=None,
        low_gu=None,
        high_gu=None,
        promise_gu=None,
        reference_gu=None,
        early_days=early,
        median_days=early,
        late_days=early,
        guarded=guarded,
    )


def due(zone: str, days: int, work: Work = Work.RECOAT) -> Due:
    return a_due(work, zone=zone, target=TODAY + days * DAY)


def urgent(*dues: Due, outlooks: tuple[ZoneOutlook, ...] = ()) -> list[str]:
    lines = [(one.target, a_line(one)) for one in dues]
    return [floor.zone for floor in most_urgent(lines, [], outlooks)]


def test_the_floor_that_may_wait_least_comes_first() -> None:
    assert urgent(due("A", 30), due("B", 10), due("C", 20)) == ["B", "C", "A"]


def test_of_two_on_one_night_the_nearer_to_its_promise_comes_first() -> None:
    known = (outlook("A", 40.0), outlook("B", 9.0), outlook("C", inf))
    assert urgent(due("A", 10), due("B", 10), due("C", 10), outlooks=known) == ["B", "A", "C"]


def test_a_slippery_floor_comes_before_every_dull_one() -> None:
    known = (outlook("A", 2.0), outlook("B", 90.0, guarded=True))
    assert urgent(due("A", 2), due("B", 30), outlooks=known) == ["B", "A"]


def test_each_floor_is_named_once_with_its_most_pressing_work_and_at_most_five() -> None:
    assert urgent(due("A", 30), due("A", 5), due("B", 10)) == ["A", "B"]
    assert len(urgent(*(due(f"Z{n}", n + 1) for n in range(9)))) == MOST == 5


def test_readings_and_tests_are_not_urgent_floors() -> None:
    assert urgent(due("A", 1, Work.READING_ROUND), due("B", 9)) == ["B"]


def test_a_floor_without_a_night_is_as_urgent_as_any_and_says_so() -> None:
    lost = Unplaced(due=due("A", 3), why="full", mend="one more night")
    planned = due("B", 9)
    found = most_urgent([(planned.target, a_line(planned))], [lost], [])
    assert [(floor.zone, floor.night) for floor in found] == [("A", None), ("B", planned.target)]
    assert found[0].sentence == lost.due.reason.inside
