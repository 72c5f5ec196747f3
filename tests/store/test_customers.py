from dataclasses import replace

from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.site import Branch, Customer
from tests.store.sample import LATER, NOW, portfolio


def test_customers_and_branches_come_back_as_they_were_sorted_by_code(store):
    branches = (
        Branch(
            code="ZURICH",
            name="Zürich",
            time_zone="Europe/Zurich",
            country="CH",
            region="ZH",
            latitude=47.4,
            longitude=8.5,
            crews=3,
            crew_size=4,
            shift_minutes=420,
            weekdays=frozenset({6, 0}),
            reserve_share=0.25,
            currency="CHF",
        ),
        Branch(code="EAST", name="East", time_zone="America/Chicago", units="US"),
    )
    customers = (Customer(code="b", name="B"), Customer(code="A", name="A"))
    with store.work(writes=True) as work:
        work.put_portfolio(Portfolio(customers=customers, branches=branches), who="t", now=NOW)
        assert work.customers() == (customers[1], customers[0])
        assert work.branches() == (branches[1], branches[0])
        assert work.revisions() == {"EAST": 1, "ZURICH": 1}


def test_a_branch_that_changed_has_a_new_revision_and_the_others_keep_theirs(store):
    loaded = portfolio()
    with store.work(writes=True) as work:
        work.put_portfolio(loaded, who="t", now=NOW)
        more_crews = (replace(loaded.branches[0], crews=2),)
        work.put_portfolio(Portfolio(branches=more_crews), who="t", now=LATER)
        assert work.revisions() == {"EAST": 2, "WEST": 1}
        assert work.branches()[0].crews == 2


def test_a_customers_new_name_changes_no_plan(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        renamed = (Customer(code="MARKET", name="The Halls"),)
        work.put_portfolio(Portfolio(customers=renamed), who="t", now=LATER)
        assert work.revisions() == {"EAST": 1, "WEST": 1}
        assert work.customers() == renamed
