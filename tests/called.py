"""Short ways to calls and what was promised of their answer; every one is invented."""

from datetime import UTC, date, datetime

from floorcare.ground.rules.call_clock import OpenCall
from floorcare.ground.trade.people import CallKind, CallReceived
from floorcare.ground.trade.promise import PromiseKind, PromiseLine
from tests.builders import DAY, TODAY
from tests.store.sample import START


def a_call(
    on: date = TODAY,
    *,
    kind: CallKind = CallKind.STAIN,
    zone: str = "LANE",
    site: str = "NORTH",
    spot_m2: float | None = 1.0,
    **more: object,
) -> CallReceived:
    """A call that came at nine in the morning, UTC, of that day and is still open."""
    own = {"uuid": f"call-{kind}-{on}-{zone}", "reported_by": "", "text": "", **more}
    return CallReceived(
        site=site,
        zone=zone,
        kind=kind,
        received_at=datetime(on.year, on.month, on.day, 9, tzinfo=UTC),
        spot_m2=spot_m2,
        **own,  # type: ignore[arg-type]
    )


def response_promised(hours: int | None = 24, **more: object) -> PromiseLine:
    """A promise to answer calls within so many hours."""
    terms: dict[str, object] = {"starts_on": START, "ends_on": date(2028, 12, 31), **more}
    return PromiseLine(
        contract="C-1",
        kind=PromiseKind.RESPONSE,
        response_hours=hours,
        **terms,  # type: ignore[arg-type]
    )


def an_open_call(
    call: CallReceived | None = None,
    *,
    hours: int | None = 24,
    answer_by: datetime | None = datetime(2026, 3, 3, 4, tzinfo=UTC),
    last_night: date | None = TODAY + 2 * DAY,
) -> OpenCall:
    """An open call with the last night on which it is answered in time."""
    call = call or a_call()
    return OpenCall(
        call=call,
        on=call.received_at.date(),
        hours=hours,
        answer_by=answer_by if hours else None,
        last_night=last_night if hours else None,
    )
