from sqlalchemy import select

from floorcare.store import rows
from floorcare.store.scope import at_sites, in_zones_at
from tests.store.sample import NOW, portfolio


def test_a_scope_takes_in_the_named_sites_all_or_none(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        connection = work._writing()

        def found(sites):
            codes = select(rows.site.c.code).where(at_sites(rows.site.c.id, sites))
            readings = select(rows.reading.c.id).where(in_zones_at(rows.reading.c.zone_id, sites))
            return set(connection.scalars(codes)), len(connection.scalars(readings).all())

        assert found(None) == ({"NORTH", "SOUTH"}, 6)
        assert found(["SOUTH"]) == ({"SOUTH"}, 3)
        assert found([]) == (set(), 0)
        assert found(["NOWHERE"]) == (set(), 0)
