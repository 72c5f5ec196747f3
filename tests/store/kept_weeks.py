"""A visit of a planned store and a week that gives it to a crew, for the tests of both."""

from datetime import timedelta

from floorcare.ground.crews.week_change import Placing, WeekChange, WeekEdit
from floorcare.ground.trade.assignment import Assignment
from tests.services.conftest import TODAY
from tests.store.sample import LATER

DAY = timedelta(days=1)


def first_visit(store):
    with store.work() as work:
        return next(v for v in work.visits(first=TODAY + DAY) if v.state == "proposed")


def edit_of(visit, *, altered=(), crew="EAST-1", held=False) -> WeekEdit:
    given = Assignment(
        visit=visit.uuid,
        crew=crew,
        on=visit.night,
        starts_at=LATER,
        ends_at=LATER + timedelta(hours=2),
        travel_minutes=12,
        machines=("BU-1", "SC-1"),
        held=held,
    )
    placing = Placing(crews=(crew,), night=visit.night, starts_minute=visit.starts_minute)
    return WeekEdit(
        branch="EAST",
        starts_on=visit.night - timedelta(days=visit.night.weekday()),
        altered=altered,
        assignments=(given,),
        cleared=(),
        changes=(WeekChange(visit=visit.uuid, site=visit.site, before=None, after=placing),),
    )


def write(store, edit, **versions):
    with store.work() as work:
        seen = versions or work.visit_versions([c.visit for c in edit.changes])
    with store.work(writes=True) as work:
        work.put_week(edit, seen, who="planner", now=LATER)
        work.commit()


def given_to(store, visit):
    with store.work() as work:
        return work.assignments(visit.night - DAY, visit.night + DAY)
