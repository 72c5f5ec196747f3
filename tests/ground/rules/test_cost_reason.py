from floorcare.findings import Reason
from floorcare.ground.rules.cost_reason import RULE, dearer_rungs, with_costs
from floorcare.ground.rules.walk import RungTaken
from floorcare.ground.rules.wear_dues import wear_rungs
from floorcare.ground.trade.treatment import Work
from tests.builders import polished

NAN = float("nan")
RUNGS = wear_rungs(polished())
FORECAST = Reason(
    rule=RULE,
    inside="Protector coat for Hall B: gloss 47 GU on 3 March 2026.",
    customer="Protector coat for Hall B: the thin protector has worn.",
    facts=(("promise GU", 45.0),),
    rejected=(),
)


def a_step(rung: int, hold: tuple[float, ...], a_day: tuple[float, ...]) -> RungTaken:
    return RungTaken(
        zone=0,
        day=6,
        rung=rung,
        rule="cost",
        kept_probability=0.7,
        hold_days=hold,
        cost_a_day=a_day,
        cycle_cost_a_day=1.0,
    )


COAT = a_step(2, (NAN, 20.0, 164.0, 340.0, NAN), (NAN, 2.15, 0.5, 1.0, NAN))


def test_each_rung_not_taken_says_what_its_days_would_have_cost() -> None:
    found = dict(dearer_rungs(RUNGS, COAT, {Work.BURNISH}))
    assert found == {
        "burnish": "is done by routine anyway",
        "fine burnish": "would hold 20 days, each at 215% of what a day costs from one re-polish "
        "to the next",
        "re-polish": "would hold 340 days, each at 100% of what a day costs from one re-polish to "
        "the next",
    }
    assert dict(dearer_rungs(RUNGS, COAT))["burnish"].startswith("not allowed yet")


def test_the_sentence_gives_shares_and_only_the_facts_give_amounts() -> None:
    reason = with_costs(FORECAST, RUNGS, COAT, "USD", {Work.BURNISH})
    assert reason.inside == (
        "Protector coat for Hall B: gloss 47 GU on 3 March 2026; expected to hold 164 days, each "
        "at 50% of what a day costs from one re-polish to the next; re-polish would hold 340 days, "
        "each at 100% of what a day costs from one re-polish to the next."
    )
    assert "USD" not in reason.inside
    assert reason.customer == FORECAST.customer
    assert dict(reason.facts) == {
        "promise GU": 45.0,
        "cost a day held, fine burnish": 2.15,
        "cost a day held, recoat": 0.5,
        "cost a day held, re-polish": 1.0,
        "cost a day from one re-polish to the next": 1.0,
        "currency": "USD",
    }
    assert [name for name, _ in reason.rejected] == ["burnish", "fine burnish", "re-polish"]


def test_a_renewal_says_that_no_milder_rung_pays() -> None:
    step = a_step(3, (NAN, NAN, 40.0, 340.0, NAN), (NAN, NAN, 2.0, 1.0, NAN))
    reason = with_costs(FORECAST, RUNGS, step, "")
    assert "no milder rung holds its days for less than they cost" in reason.inside
    assert "recoat would hold 40 days, each at 200%" in reason.inside
    assert dict(reason.facts)["currency"] is None


def test_for_want_of_better_is_said_too() -> None:
    step = a_step(2, (NAN,) * 5, (NAN,) * 5)
    assert "taken for want of better" in with_costs(FORECAST, RUNGS, step, "USD").inside
