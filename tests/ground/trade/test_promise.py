import pytest

from floorcare.ground.trade.promise import PromiseKind, PromiseLine, promised_gloss
from tests.builders import DAY, TODAY, look_promised


def test_the_promised_gloss_is_the_share_of_the_reference_that_may_not_be_lost() -> None:
    assert promised_gloss(look_promised(60.0), 0.03) == pytest.approx(48.0)
    assert promised_gloss(look_promised(60.0, loss_share=0.3), 0.03) == pytest.approx(42.0)


def test_the_allowed_loss_is_never_less_than_three_reading_errors() -> None:
    line = look_promised(60.0, loss_share=0.05)
    assert promised_gloss(line, 0.04) == pytest.approx(60.0 * 0.88)
    assert promised_gloss(line, 0.01) == pytest.approx(60.0 * 0.95)
    # even the worst meter leaves a tenth of the reference to keep
    assert promised_gloss(line, 2.0) == pytest.approx(6.0)


def test_without_a_reference_no_gloss_is_promised() -> None:
    line = PromiseLine(contract="C", kind=PromiseKind.RESPONSE, starts_on=TODAY, ends_on=TODAY)
    assert promised_gloss(line, 0.03) is None


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"ends_on": TODAY - DAY, "starts_on": TODAY}, "before it starts"),
        ({"loss_share": 0.01}, "0.02 to 0.9"),
        ({"loss_share": 0.95}, "0.02 to 0.9"),
        ({"confidence": 0.4}, "0.5 to 0.99"),
        ({"confidence": 1.0}, "0.5 to 0.99"),
    ],
)
def test_a_line_that_cannot_be_kept_or_measured_is_refused(
    wrong: dict[str, object], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        look_promised(60.0, **wrong)


def test_a_reference_beyond_any_gloss_meter_is_refused() -> None:
    with pytest.raises(ValueError, match="1 to 200"):
        look_promised(600.0)
