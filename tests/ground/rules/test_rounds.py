from datetime import date

from floorcare.ground.rules.rounds import round_dues
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, a_case, read_down, slip_promised


def test_a_promised_look_is_read_once_a_quarter_from_its_last_reading() -> None:
    last = TODAY - 6 * DAY
    dues = round_dues(a_case(a_book(readings=read_down(last_on=last)), days=365))
    assert [due.target for due in dues] == [last + 91 * (n + 1) * DAY for n in range(4)]
    for due in dues:
        assert due.work is Work.READING_ROUND
        assert (due.earliest, due.latest) == (due.target - 30 * DAY, due.target + 21 * DAY)
        assert due.needs == frozenset()
        assert due.reason.rule == "reading round"
    assert dues[0].reason.inside.endswith("last read 24 February 2026; one a quarter.")


def test_a_floor_never_read_is_read_on_the_first_night_there_is() -> None:
    case = a_case(a_book(readings=()))
    due = round_dues(case)[0]
    assert due.target == case.first_night
    assert "never read" in due.reason.inside


def test_an_overdue_round_comes_at_once_and_not_twice() -> None:
    case = a_case(a_book(readings=read_down(last_on=TODAY - 200 * DAY)))
    targets = [due.target for due in round_dues(case)]
    assert targets == [case.first_night, case.first_night + 91 * DAY]


def test_a_round_that_stands_moves_the_next_one_on() -> None:
    stands = TODAY + 40 * DAY
    ahead = TreatmentDone(work=Work.READING_ROUND, done_on=stands)
    case = a_case(a_book(readings=read_down()), days=180, standing=(ahead,))
    assert [due.target for due in round_dues(case)] == [stands + 91 * DAY]


def test_a_round_that_stands_far_off_leaves_those_before_it_due() -> None:
    last = TODAY - 6 * DAY
    for days, before in ((200, 1), (210, 2)):
        ahead = TreatmentDone(work=Work.READING_ROUND, done_on=last + days * DAY)
        case = a_case(a_book(readings=read_down(last_on=last)), days=330, standing=(ahead,))
        expected = [last + 91 * (n + 1) * DAY for n in range(before)]
        assert [due.target for due in round_dues(case)] == [*expected, last + (days + 91) * DAY]


def test_without_a_promised_look_nothing_need_be_read() -> None:
    assert round_dues(a_case(a_book(promises=()))) == ()
    assert round_dues(a_case(a_book(promises=(slip_promised(),)))) == ()


def test_the_window_of_a_round_never_reaches_back_to_today() -> None:
    case = a_case(a_book(readings=read_down(last_on=TODAY - 85 * DAY)))
    assert round_dues(case)[0].earliest == TODAY + DAY
    assert round_dues(case)[0].target == date(2026, 3, 8)
