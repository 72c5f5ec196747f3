from dataclasses import replace

import pytest

from floorcare.ground.schedule.answers import NOTHING_SAID, PRESSING_RULES, site_answers
from floorcare.ground.trade.answer import NightAnswer, NightWord
from floorcare.ground.trade.treatment import Work
from tests.builders import DAY, TODAY, a_due, a_line, a_site_book
from tests.ground.schedule.stood import NIGHT, a_visit


def said(word: NightWord, work: Work = Work.RECOAT, zone: str = "LANE") -> NightAnswer:
    return NightAnswer(zone=zone, work=work, night=NIGHT, word=word, said_on=TODAY)


def answers(*spoken: NightAnswer, keep_notice: bool = False, visits=(), days: int = 7):
    book = replace(a_site_book(notice_days=days), answers=spoken)
    return site_answers(book, visits, today=TODAY, keep_notice=keep_notice)


def test_a_refused_night_takes_no_work_on_its_zone_and_any_on_another() -> None:
    site = answers(said(NightWord.REFUSED))
    harder = a_line(a_due(Work.REPOLISH))
    assert not site.takes(NIGHT, [a_line(a_due())])
    assert not site.takes(NIGHT, [harder]), "a harder work would be no answer to a refusal"
    assert site.takes(NIGHT + DAY, [harder])
    assert site.takes(NIGHT, [a_line(a_due(zone="EDGE"))])
    assert not site.takes(NIGHT, [a_line(a_due(zone="EDGE")), harder])


def test_a_counter_night_is_wished_for_the_very_work_it_was_offered_for() -> None:
    site = answers(said(NightWord.OFFERED))
    assert site.wishes(NIGHT, a_line(a_due()))
    assert not site.wishes(NIGHT + DAY, a_line(a_due()))
    assert not site.wishes(NIGHT, a_line(a_due(Work.BURNISH)))
    assert not site.wishes(NIGHT, a_line(a_due(zone="EDGE")))
    assert site.takes(NIGHT, [a_line(a_due())])


def test_notice_binds_only_where_it_is_to_be_kept_and_only_what_does_not_press() -> None:
    near, line = TODAY + 6 * DAY, a_line(a_due())
    assert answers().takes(near, [line])
    kept = answers(keep_notice=True)
    assert not kept.takes(near, [line])
    assert kept.takes(TODAY + 7 * DAY, [line])
    assert answers(keep_notice=True, days=0).takes(TODAY + DAY, [line])
    for rule in PRESSING_RULES:
        pressing = a_line(a_due(rule=rule))
        assert kept.takes(near, [pressing])
        assert not kept.takes(near, [pressing, line])


def test_what_was_proposed_for_a_night_already_needs_no_fresh_notice() -> None:
    near = TODAY + 3 * DAY
    there = a_visit(night=near)
    elsewhere = replace(there, site="SOUTH")
    assert answers(keep_notice=True, visits=[there]).takes(near, there.lines)
    assert not answers(keep_notice=True, visits=[there]).takes(near, [a_line(a_due(zone="EDGE"))])
    assert not answers(keep_notice=True, visits=[elsewhere]).takes(near, there.lines)


@pytest.mark.parametrize("days", [1, 400])
def test_where_nothing_was_said_every_night_takes_everything(days: int) -> None:
    assert NOTHING_SAID.takes(TODAY + days * DAY, [a_line(a_due())])
    assert not NOTHING_SAID.wishes(TODAY + days * DAY, a_line(a_due()))
