from dataclasses import replace

from floorcare.ground.schedule.stakes import NO_PROMISE, at_stake, window_findings
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_book, a_line, a_site_book, look_promised, slip_promised
from tests.ground.schedule.stood import NIGHT, a_visit, due_about

RHYTHM = PromiseLine(
    contract="C-2",
    kind=PromiseKind.RHYTHM,
    starts_on=TODAY - DAY,
    ends_on=TODAY + 400 * DAY,
)


def stake(rule: str, work: Work = Work.RECOAT, *, days: int = 0) -> str:
    answer = replace(RHYTHM, kind=PromiseKind.RESPONSE, response_hours=24)
    promises = (look_promised(), slip_promised(), RHYTHM, answer)
    book = a_site_book("NORTH", a_book(promises=promises))
    line = a_line(due_about(rule=rule, work=work))
    return at_stake(book, line, NIGHT + days * DAY)


def test_the_promise_that_the_rule_keeps_is_named_with_its_terms() -> None:
    look = "contract C-1 promises the look, 80% of 60 GU"
    assert stake("promise at confidence") == look
    assert stake("evidence outranks forecast") == look
    assert stake("reading round", Work.READING_ROUND) == look
    slip = "contract C-1 promises slip resistance, wet DCOF 0.45"
    assert stake("slip guard", Work.CLEAN) == slip
    assert stake("slip retest", Work.SLIP_TEST) == slip
    assert stake("set rhythm") == "contract C-2 promises its rhythm"
    assert stake("call response", Work.SPOT_REPAIR) == (
        "contract C-2 promises an answer within 24 hours"
    )


def test_outside_a_term_or_without_one_nothing_is_promised() -> None:
    assert stake("set rhythm", days=500) == NO_PROMISE
    bare = a_site_book("NORTH", a_book(promises=()))
    assert at_stake(bare, a_line(due_about()), NIGHT) == NO_PROMISE
    assert at_stake(bare, a_line(due_about(zone="GONE")), NIGHT) == NO_PROMISE


def test_a_night_inside_every_window_is_not_spoken_of_at_either_end() -> None:
    visit = a_visit()
    for days in (-7, 0, 7):
        assert window_findings(a_site_book(), visit, NIGHT + days * DAY) == ()


def test_a_late_night_is_told_with_the_days_and_the_promise_and_asks() -> None:
    (late,) = window_findings(a_site_book(), a_visit(), NIGHT + 8 * DAY)
    assert late.weight == "asks"
    assert "LANE recoat is wanted by 24 March 2026, and this is 1 day later" in late.problem
    assert "contract C-1 promises the look, 80% of 60 GU" in late.problem
    assert "take a night by 2026-03-24" in late.mend
    (very,) = window_findings(a_site_book(), a_visit(), NIGHT + 17 * DAY)
    assert "10 days later" in very.problem


def test_each_line_is_told_for_itself_and_an_early_night_as_of_no_use() -> None:
    visit = a_visit(due_about(), due_about(zone="EDGE", earliest=TODAY))
    (early,) = window_findings(a_site_book(), visit, NIGHT - 8 * DAY)
    assert early.problem == "LANE recoat is of no use before 10 March 2026"
    assert len(window_findings(a_site_book(), visit, NIGHT + 8 * DAY)) == 2
