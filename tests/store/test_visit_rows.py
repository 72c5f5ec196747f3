from datetime import date

import pytest
from sqlalchemy import update
from sqlalchemy.exc import IntegrityError

from floorcare.store import visit_rows
from tests.store.sample import NOW, added, not_placed, plan, portfolio, visit


@pytest.mark.parametrize(
    ("column", "value"),
    [
        (visit_rows.visit.c.state, "perhaps"),
        (visit_rows.visit.c.commitment, "day"),
        (visit_rows.visit.c.agreement, "yes"),
        (visit_rows.visit.c.origin, "mail"),
        (visit_rows.visit.c.starts_minute, 2880),
        (visit_rows.due.c.work, "paint"),
        (visit_rows.due.c.latest, date(2026, 1, 1)),
        (visit_rows.due.c.unplaced_mend, None),
        (visit_rows.visit_line.c.due_id, 999),
    ],
    ids=str,
)
def test_the_database_itself_refuses_what_cannot_be(store, column, value):
    with store.work(writes=True) as work:
        work.put_portfolio(portfolio(), who="t", now=NOW)
        work.put_plan(
            plan(),
            visits=(visit(),),
            changes=(added(visit()),),
            unplaced=(not_placed(),),
            revisions=work.revisions(),
            who="t",
            now=NOW,
        )
        with pytest.raises(IntegrityError):
            work._writing().execute(update(column.table).values({column.name: value}))
