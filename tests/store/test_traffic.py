from datetime import date

from floorcare.ground.trade.traffic import TrafficRow
from tests.store.sample import NOW, portfolio, site_book, with_zone


def test_traffic_comes_back_as_it_was_sorted_by_first_day(store):
    traffic = (
        TrafficRow(
            kind="foot",
            per_day=1800.0,
            counted=True,
            from_on=date(2024, 1, 1),
            to_on=date(2024, 12, 31),
        ),
        TrafficRow(kind="pallet truck", per_day=12.5, counted=False, from_on=date(2024, 1, 1)),
        TrafficRow(kind="foot", per_day=0.0, counted=False, from_on=date(2025, 1, 1)),
    )
    with store.work(writes=True) as work:
        book = with_zone(site_book(), traffic=tuple(reversed(traffic)))
        work.put_portfolio(portfolio(book), who="t", now=NOW)
        assert work.books()[0].zones[0].traffic == traffic
