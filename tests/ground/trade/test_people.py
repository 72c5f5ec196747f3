from datetime import UTC, datetime, timedelta

import pytest

from floorcare.ground.trade.people import CallKind, CallReceived

CAME = datetime(2026, 3, 2, 8, 20, tzinfo=UTC)


def call(**more: object) -> CallReceived:
    given = {"received_at": CAME, **more}
    return CallReceived(
        uuid="5a3c1c0e-7d0b-4f0e-9a52-0d6f7c2b9e11",
        site="NORTH",
        zone="LANE",
        kind=CallKind.SPILL,
        reported_by="Robin V.",
        text="Oil by the gate",
        **given,  # type: ignore[arg-type]
    )


def test_a_call_may_be_open_or_closed_after_it_came():
    assert call().closed_at is None
    assert call(closed_at=CAME + timedelta(hours=2), spot_m2=0.5).spot_m2 == 0.5


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"received_at": CAME.replace(tzinfo=None)}, "needs its zone"),
        ({"closed_at": CAME - timedelta(minutes=1)}, "before it came"),
        ({"spot_m2": -1.0}, "0 or more"),
    ],
)
def test_a_call_that_cannot_be_is_refused(more, said):
    with pytest.raises(ValueError, match=said):
        call(**more)
