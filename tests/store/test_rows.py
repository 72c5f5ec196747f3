from decimal import Decimal

import pytest
from sqlalchemy import Integer, insert, select, update
from sqlalchemy.exc import IntegrityError

from floorcare.store import contract_rows, crew_rows, equipment_rows, floor_rows, people_rows, rows
from floorcare.store.columns import metadata
from tests.store.means import with_means
from tests.store.sample import NOW


@pytest.fixture
def connection(store):
    with store.work(writes=True) as work:
        work.put_portfolio(with_means(), who="t", now=NOW)
        yield work._writing()


def test_every_table_is_known_inside_by_one_whole_number():
    assert len(metadata.tables) == 54
    for table in metadata.tables.values():
        assert [type(c.type) for c in table.primary_key.columns] == [Integer]


def test_every_key_and_check_has_a_name():
    for table in metadata.tables.values():
        for constraint in table.constraints:
            assert constraint.name, (table.name, constraint)


@pytest.mark.parametrize(
    ("column", "value"),
    [
        (rows.reading.c.measure, "shine"),
        (rows.reading.c.state, "dirty"),
        (rows.reading.c.taken_minute, 1440),
        (rows.zone.c.opening, "who knows"),
        (rows.zone_span.c.area_m2, -1.0),
        (rows.zone_span.c.traffic, "busy"),
        (rows.site.c.holidays, "maybe"),
        (rows.branch.c.units, "imperial"),
        (rows.access_window.c.ends_minute, 1441),
        (rows.treatment_done.c.share, 0.0),
        (rows.traffic_row.c.kind, "bicycle"),
        (rows.routine.c.performer, "nobody"),
        (rows.promise_line.c.policy, "cheap"),
        (rows.site.c.customer_id, 999),
        (rows.installation.c.id, 2),
        (rows.reading.c.origin, "hearsay"),
        (people_rows.call.c.kind, "praise"),
        (people_rows.call.c.spot_m2, -1.0),
        (people_rows.person.c.role, "owner"),
        (people_rows.site_requirement.c.kind, "handshake"),
        (floor_rows.season.c.factor, 0.5),
        (floor_rows.floor_make_up.c.exposure_class, "D"),
        (floor_rows.floor_make_up.c.joints_m, -1.0),
        (crew_rows.worker.c.branch_id, 999),
        (crew_rows.shift.c.starts_minute, 1440),
        (equipment_rows.rate.c.amount, Decimal(-1)),
        (equipment_rows.rate.c.currency, "Euro"),
        (equipment_rows.stock_entry.c.move, "lost"),
        (equipment_rows.meter_bridge.c.stations, 0),
        (contract_rows.term.c.renewal, "by habit"),
        (contract_rows.term.c.our_notice_days, 731),
        (contract_rows.fee_line.c.amount, Decimal("-0.01")),
    ],
    ids=str,
)
def test_the_database_itself_refuses_what_cannot_be(connection, column, value):
    with pytest.raises(IntegrityError):
        connection.execute(update(column.table).values({column.name: value}))


def test_a_value_of_the_whole_zone_stands_once(connection):
    c = rows.reading.c
    whole = connection.execute(select(rows.reading).where(c.station_id.is_(None))).first()
    again = {name: value for name, value in whole._mapping.items() if name != "id"}
    with pytest.raises(IntegrityError):
        connection.execute(insert(rows.reading).values(again))


@pytest.mark.parametrize(
    ("table", "lacks"),
    [(contract_rows.fee_line, "site_id"), (contract_rows.exclusion, "zone_id")],
    ids=["fee of all sites", "exclusion of a whole site"],
)
def test_what_belongs_to_all_places_stands_once(connection, table, lacks):
    whole = connection.execute(select(table).where(table.c[lacks].is_(None))).first()
    again = {name: value for name, value in whole._mapping.items() if name != "id"}
    with pytest.raises(IntegrityError):
        connection.execute(insert(table).values(again))


def test_nothing_is_deleted_by_a_parent_that_goes(connection):
    with pytest.raises(IntegrityError):
        connection.execute(rows.site.delete())
    for table in metadata.tables.values():
        assert all(key.ondelete is None for key in table.foreign_keys)
