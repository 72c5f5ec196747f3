"""One crew asked for one visit: what it would take, or all that keeps it from it."""

from floorcare.ground.crews.access import access_of
from floorcare.ground.crews.roster import crew_nights
from floorcare.ground.crews.trial import distance, try_crew
from floorcare.ground.crews.week import MisfitKind
from tests.ground.crews.weeks import TUESDAY, a_crew, a_place, a_shift, a_visit, a_week, asks


def asked(week, crew="A"):
    (visit,) = week.visits
    access = access_of(visit, week.site(visit))
    return try_crew(week, visit, access, crew, crew_nights(week))


def test_a_crew_that_fits_says_where_in_its_night():
    trial = asked(a_week(a_visit()))
    assert trial.misfits == ()
    assert trial.night is not None
    assert trial.night.on == TUESDAY
    assert trial.slot is not None
    assert (trial.slot.at, trial.slot.travel_minutes) == (0, 11)


def test_everything_that_keeps_it_away_is_told_at_once():
    week = a_week(a_visit(people=3, minutes=490), places=(a_place(requirements=(asks(),)),))
    kinds = {misfit.kind for misfit in asked(week).misfits}
    assert {MisfitKind.PEOPLE, MisfitKind.QUALIFICATION, MisfitKind.TIME} <= kinds


def test_a_crew_that_is_not_out_has_no_night():
    crews = (a_crew("A", "ann", "ada", shifts=(a_shift(8 * 60, 16 * 60),)),)
    trial = asked(a_week(a_visit(), crews=crews))
    assert trial.night is None
    assert [misfit.kind for misfit in trial.misfits] == [MisfitKind.SHIFT]


def test_what_fits_is_nearest_then_what_is_most_easily_mended():
    fits = asked(a_week(a_visit()))
    a_bit_long = asked(a_week(a_visit(minutes=440)))
    away = asked(a_week(a_visit(), crews=(a_crew("A", "ann", "ada", shifts=()),)))
    assert distance(fits) < distance(a_bit_long) < distance(away)
