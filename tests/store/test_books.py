from dataclasses import replace

import pytest
from sqlalchemy import event

from floorcare.store.books import books_of
from tests.store.means import north, with_means
from tests.store.sample import NOW, portfolio, site_book


def statements(store, ask):
    """How many statements an answer takes."""
    counted = []
    with store.work() as work:
        connection = work._reading()
        event.listen(connection, "before_cursor_execute", lambda *_: counted.append(1))
        answer = ask(connection)
    return len(counted), answer


def test_two_hundred_sites_take_as_many_statements_as_one(store):
    def put(books):
        with store.work(writes=True) as work:
            work.put_portfolio(portfolio(*books), who="t", now=NOW)
            work.commit()

    put([replace(north(), site=site_book("S000").site)])
    alone, books = statements(store, lambda c: books_of(c, None))
    assert len(books) == 1
    put([site_book(f"S{n:03d}", zones=("EDGE", "LANE")) for n in range(200)])
    many, books = statements(store, lambda c: books_of(c, None))
    assert [b.site.code for b in books] == [f"S{n:03d}" for n in range(200)]
    chosen, few = statements(store, lambda c: books_of(c, [f"S{n:03d}" for n in range(0, 200, 2)]))
    assert few == books[::2]
    assert alone == many == chosen


def test_whole_books_come_back_as_they_were(store):
    loaded = with_means()
    with store.work(writes=True) as work:
        work.put_portfolio(loaded, who="t", now=NOW)
        assert work.books() == loaded.books
        assert work.books(["SOUTH", "NOWHERE"]) == loaded.books[1:]
        assert work.books([]) == ()


@pytest.mark.parametrize(
    "question",
    [
        "contacts",
        "people",
        "workers",
        "crews",
        "machines",
        "instruments",
        "bridges",
        "stock",
        "supplies",
        "rates",
        "contracts",
        "calls",
    ],
)
def test_a_hundred_of_anything_take_as_many_statements_as_none(store, question):
    def counted():
        with store.work() as work:
            lines = []
            event.listen(work._reading(), "before_cursor_execute", lambda *_: lines.append(1))
            return getattr(work, question)(), len(lines)

    answer, alone = counted()
    assert answer == ()
    loaded = with_means()
    many = getattr(loaded, question)
    if question in ("contacts", "workers", "crews", "machines", "contracts"):
        more = tuple(replace(many[0], code=f"X{n:03d}") for n in range(100))
        loaded = replace(loaded, **{question: (*many, *more)})
    with store.work(writes=True) as work:
        work.put_portfolio(loaded, who="t", now=NOW)
        work.commit()
    answer, crowded = counted()
    assert answer == getattr(loaded, question)
    assert crowded == alone
