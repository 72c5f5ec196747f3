from floorcare.findings import Reason
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.promise import Policy
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.minutes import PLAIN_MINUTES, line_minutes
from tests.builders import DAY, TODAY, a_book, a_case, a_zone, look_promised, polished

WHY = Reason(rule="set rhythm", inside="It is due.", customer="It is due.")


def ahead(work: Work, days: int, share: float = 1.0) -> TreatmentDone:
    return TreatmentDone(work=work, done_on=TODAY + days * DAY, share=share)


def due(case, work=Work.RECOAT, earliest=10, target=12, latest=14, **more):  # type: ignore[no-untyped-def]
    days = {"earliest": earliest, "target": target, "latest": latest}
    return case.due(work, reason=WHY, **{k: TODAY + d * DAY for k, d in days.items()}, **more)


def test_a_due_never_lies_today_or_before() -> None:
    found = due(a_case(), earliest=-9, target=-2, latest=-1)
    assert found.earliest == found.target == found.latest == TODAY + DAY
    found = due(a_case(), earliest=-9, target=5, latest=9)
    assert (found.earliest, found.target) == (TODAY + DAY, TODAY + 5 * DAY)


def test_minutes_come_from_what_was_typed_else_from_the_rates_else_are_assumed() -> None:
    recoat = polished().methods[Work.RECOAT]
    assert due(a_case()).minutes == line_minutes(recoat, 400.0).minutes
    assert due(a_case(), typed_minutes=95).minutes == 95
    unmeasured = a_case(a_book(zone=a_zone(area_m2=None)))
    assert due(unmeasured).minutes == line_minutes(recoat, None).minutes
    assert due(unmeasured).area_m2 is None
    assert due(a_case(), work=Work.SLIP_TEST).minutes == PLAIN_MINUTES[Work.SLIP_TEST]


def test_a_due_on_part_of_a_zone_has_that_part_s_area_and_minutes() -> None:
    part = due(a_case(), share=0.25)
    assert part.area_m2 == 100.0
    assert part.minutes == line_minutes(polished().methods[Work.RECOAT], 100.0).minutes


def test_a_due_asks_the_window_for_what_its_method_needs() -> None:
    assert due(a_case()).needs == polished().methods[Work.RECOAT].needs
    assert due(a_case(), work=Work.READING_ROUND).needs == frozenset()


def test_what_stands_is_laid_once_it_is_whole() -> None:
    parts = (ahead(Work.REPOLISH, 3, 0.5), ahead(Work.REPOLISH, 4, 0.5), ahead(Work.RECOAT, 9, 0.3))
    case = a_case(standing=parts, fixed=((Work.BURNISH, TODAY + 20 * DAY),))
    assert case.stands_on(Work.REPOLISH) == (TODAY + 4 * DAY,)
    assert case.stands_on(Work.RECOAT) == ()
    assert case.laid == (
        (Work.REPOLISH, TODAY + 4 * DAY),
        (Work.BURNISH, TODAY + 20 * DAY),
    )


def test_what_stands_tonight_counts_as_standing_but_is_not_laid_again() -> None:
    tonight = ahead(Work.RECOAT, 0)
    case = a_case(a_book(done=(tonight,)), standing=(tonight,))
    assert case.stands_on(Work.RECOAT) == (TODAY,)
    assert case.laid == ()


def test_wear_decides_only_under_a_promised_look_with_a_reference_and_the_gentlest_policy() -> None:
    assert a_case().by_wear
    assert not a_case(a_book(promises=())).by_wear
    agreed = look_promised(policy=Policy.AS_AGREED)
    assert not a_case(a_book(promises=(agreed,))).by_wear
    over = look_promised(ends_on=TODAY - DAY)
    assert not a_case(a_book(promises=(over,))).by_wear


def test_without_an_open_night_work_is_reckoned_from_tomorrow() -> None:
    assert a_case(opportunities=()).first_night == TODAY + DAY
