from dataclasses import replace
from datetime import date

from floorcare.ground.trade.promise import Policy, PromiseKind, PromiseLine
from floorcare.ground.trade.reading import SurfaceState
from tests.store.sample import LATER, NOW, portfolio, site_book, with_zone

LINE = PromiseLine(
    contract="C-7",
    kind=PromiseKind.APPEARANCE,
    starts_on=date(2025, 1, 1),
    ends_on=date(2026, 12, 31),
    reference_gu=61.2,
    reference_on=date(2024, 12, 15),
    reference_state=SurfaceState.AFTER_CLEANING,
    loss_share=0.15,
    confidence=0.9,
    policy=Policy.AS_AGREED,
)


def put(work, *promises, now=LATER):
    work.put_portfolio(portfolio(with_zone(site_book(), promises=promises)), who="t", now=now)
    return work.books()[0].zones[0].promises


def test_promises_come_back_as_they_were_sorted_by_start(store):
    term = {"starts_on": date(2024, 1, 1), "ends_on": date(2024, 12, 31)}
    slip = PromiseLine(
        contract="C-7",
        kind=PromiseKind.SLIP,
        slip_method="wet DCOF",
        slip_limit=0.42,
        slip_place="ramp",
        **term,
    )
    response = PromiseLine(contract="C-7", kind=PromiseKind.RESPONSE, response_hours=24, **term)
    with store.work(writes=True) as work:
        assert put(work, LINE, slip, response) == (response, slip, LINE)


def test_a_new_term_leaves_the_old_one_untouched(store):
    with store.work(writes=True) as work:
        put(work, LINE, now=NOW)
        next_term = replace(
            LINE, starts_on=date(2027, 1, 1), ends_on=date(2028, 12, 31), loss_share=0.2
        )
        assert put(work, next_term) == (LINE, next_term)
