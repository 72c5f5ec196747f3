"""Who goes to a visit: read, taken back where it moves, pinned."""

from dataclasses import replace
from datetime import timedelta

from floorcare.ground.trade.answer import Manner, Said
from floorcare.store.visit_edits import VisitEdit
from tests.services.conftest import (  # noqa: F401
    TODAY,
    loaded_once,
    opened,
    planned,
    planned_once,
    surfaces,
)
from tests.store.kept_weeks import edit_of, first_visit, given_to, write
from tests.store.sample import LATER

DAY = timedelta(days=1)


def test_a_visit_that_moves_by_hand_has_no_crew_any_more(planned):  # noqa: F811
    visit = first_visit(planned)
    write(planned, edit_of(visit))
    after = replace(visit, night=visit.night + DAY, sequence=visit.sequence + 1)
    with planned.work(writes=True) as work:
        version = work.version_seen(visit, None)
        said = Said(by="ida", how=Manner.OFFICE, on=TODAY, why="")
        edit = VisitEdit(kind="moved", before=visit, after=after, said=said, version=version)
        work.put_visit(edit, who="office", now=LATER)
        work.commit()
    assert given_to(planned, visit) == ()


def test_a_visit_is_pinned_to_its_crew_and_let_go(planned):  # noqa: F811
    visit = first_visit(planned)
    with planned.work(writes=True) as work:
        assert not work.hold_assignment(visit.uuid, held=True), "it has no crew yet"
    write(planned, edit_of(visit))
    with planned.work(writes=True) as work:
        assert work.hold_assignment(visit.uuid, held=True)
        work.commit()
    assert [one.held for one in given_to(planned, visit)] == [True]
