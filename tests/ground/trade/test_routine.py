from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.treatment import Work
from tests.builders import routinely


def test_who_does_it_and_what_proves_it_are_said_in_the_words_of_the_trade() -> None:
    assert [p.value for p in Performer] == ["site team", "us", "other"]
    assert [p.value for p in Proof] == ["confirmed", "reported", "assumed", "known missed"]


def test_a_rhythm_is_our_own_habit_and_by_the_rates_until_somebody_says_otherwise() -> None:
    routine = routinely(Work.BURNISH, "FREQ=WEEKLY")
    assert not routine.promised
    assert routine.minutes is None
    assert routine.ends_on is None
    assert routine.except_on == ()
