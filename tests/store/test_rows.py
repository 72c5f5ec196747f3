import pytest
from sqlalchemy import Integer, insert, select, update
from sqlalchemy.exc import IntegrityError

from floorcare.store import rows
from floorcare.store.columns import metadata
from tests.store.sample import NOW, portfolio


@pytest.fixture
def connection(store):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        yield work._writing()


def test_every_table_is_known_inside_by_one_whole_number():
    assert len(metadata.tables) == 22
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


def test_nothing_is_deleted_by_a_parent_that_goes(connection):
    with pytest.raises(IntegrityError):
        connection.execute(rows.site.delete())
    for table in metadata.tables.values():
        assert all(key.ondelete is None for key in table.foreign_keys)
