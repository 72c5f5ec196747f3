from dataclasses import replace

import pytest

from floorcare.ground.trade.visit import Agreement, Commitment, VisitState
from tests.builders import DAY, TODAY, a_due
from tests.store.sample import visit


@pytest.mark.parametrize(("earliest", "latest"), [(1, 2), (-2, -1)])
def test_a_due_whose_target_lies_outside_its_window_is_refused(earliest: int, latest: int) -> None:
    with pytest.raises(ValueError, match="does not hold"):
        a_due(target=TODAY, earliest=TODAY + earliest * DAY, latest=TODAY + latest * DAY)


def test_a_proposed_visit_of_some_week_may_be_moved() -> None:
    assert not visit().stands
    assert not replace(visit(), agreement=Agreement.REFUSED).stands


@pytest.mark.parametrize("state", [s for s in VisitState if s is not VisitState.PROPOSED])
def test_a_visit_that_is_held_begun_or_over_stands(state: VisitState) -> None:
    assert replace(visit(), state=state).stands


@pytest.mark.parametrize(
    "firm",
    [
        {"agreement": Agreement.ASKED},
        {"agreement": Agreement.AGREED},
        {"commitment": Commitment.NIGHT},
        {"commitment": Commitment.HOUR},
    ],
)
def test_a_visit_the_customer_counts_on_stands(firm: dict[str, object]) -> None:
    assert replace(visit(), **firm).stands  # type: ignore[arg-type]
