from dataclasses import replace

from floorcare.ground.schedule.branch_year import decide_branch, site_nights
from floorcare.ground.schedule.sites_look import (
    bound_visits,
    is_given,
    look_at_sites,
    nights_beside,
    surfaces_by_zone,
)
from floorcare.ground.schedule.travel import UNKNOWN_MINUTES, Travel
from floorcare.ground.trade.site import TravelLeg
from floorcare.ground.trade.visit import Agreement
from tests.builders import DAY, TODAY, a_book, polished, read_down
from tests.ground.schedule.settled_years import a_year, three_sites, visits_of_first_plan


def test_a_look_holds_only_the_sites_asked_for():
    year = a_year(*three_sites())
    look = look_at_sites(year, ["MID"])
    assert look.sites == {"MID"}
    assert {case.site for case in look.cases} == {"MID"}
    assert {outlook.site for outlook in look.outlooks} == {"MID"}
    assert look_at_sites(year).sites == {"MID", "NORTH", "SOUTH"}


def test_a_zone_looks_the_same_alone_and_beside_others():
    year = a_year(*three_sites())
    alone, among = look_at_sites(year, ["MID"]), look_at_sites(year)
    assert alone.outlooks == tuple(o for o in among.outlooks if o.site == "MID")
    (one,), (all_of,) = alone.fleets, among.fleets
    at = next(z for z, case in enumerate(all_of.cases) if case.site == "MID")
    assert one.both[0] == all_of.both[at]


def test_looks_in_parts_decide_what_one_look_decides():
    year = a_year(*three_sites())
    nights = {}
    parts = [look_at_sites(year, codes, nights) for codes in (["MID"], ["NORTH", "SOUTH"])]
    assert decide_branch(year, parts) == decide_branch(year, [look_at_sites(year)])
    assert decide_branch(year) == decide_branch(year, parts)


def test_a_look_serves_every_look_at_what_stands():
    year = a_year(*three_sites())
    looks = [look_at_sites(year)]
    decide_branch(year, looks)
    stands = replace(year, standing=visits_of_first_plan(year), planned_to=year.last_on)
    assert decide_branch(stands, looks) == decide_branch(stands)


def test_sites_nobody_looked_at_keep_their_visits():
    year = a_year(*three_sites())
    visits = visits_of_first_plan(year)
    stands = replace(year, standing=visits, planned_to=year.last_on)
    decision = decide_branch(stands, [look_at_sites(stands, ["MID"])])
    kept = [(stub.site, stub.night.on, stub.lines) for stub in decision.stubs]
    assert kept == [(v.site, v.night, v.lines) for v in sorted(visits, key=lambda v: v.night)]


def test_nights_known_from_a_look_are_not_made_again():
    year = a_year(*three_sites())
    look = look_at_sites(year, ["MID"])
    mine = look.nights["MID"].nights
    found = nights_beside(year, look.nights)
    assert found["MID"].nights is mine
    assert found["SOUTH"] == site_nights(year, year.books[2])


def test_a_typed_drive_each_way_leaves_less_of_the_shift():
    year = a_year(*three_sites())
    book = year.books[0]
    code, branch = book.site.code, year.branch.code
    legs = (
        TravelLeg(branch=branch, leaves="", reaches=code, minutes=50),
        TravelLeg(branch=branch, leaves=code, reaches="", minutes=45),
    )
    typed = replace(year, travel=Travel.of(branch, legs))
    assert typed.round_trip(book.site) == 95
    assert year.round_trip(book.site) == 2 * UNKNOWN_MINUTES
    less = site_nights(year, book).visit_minutes - site_nights(typed, book).visit_minutes
    assert less == 95 - 2 * UNKNOWN_MINUTES


def test_what_stands_and_tonight_are_bound():
    year = a_year(*three_sites())
    first, *others = visits_of_first_plan(year)
    agreed = replace(first, agreement=Agreement.AGREED)
    tonight = replace(others[0], night=TODAY)
    found = bound_visits(replace(year, standing=(agreed, tonight, *others[1:])))
    assert found == (agreed, tonight)


def test_a_zone_whose_care_is_over_has_no_surface_here():
    over = a_book("OLD", readings=read_down(50.0))
    span = replace(over.zone.spans[0], to_on=TODAY - DAY)
    over = replace(over, zone=replace(over.zone, spans=(span,)))
    north, *_ = three_sites()
    year = a_year(replace(north, zones=(*north.zones, over)))
    assert surfaces_by_zone(year) == {north.site.code: {"LANE": polished()}}


def test_what_a_week_gave_to_a_crew_is_bound_while_its_night_takes_all_of_it():
    year = a_year(*three_sites())
    first, *others = visits_of_first_plan(year)
    given = replace(first, crew="A")
    assert is_given(year, given)
    assert bound_visits(replace(year, standing=(given, *others))) == (given,)
    assert not is_given(year, first), "no crew was told"
    assert not is_given(year, replace(given, starts_minute=given.starts_minute + 1440))
    assert not is_given(year, replace(given, site="MOON"))
    half = replace(given.lines[0], area_m2=1.0)
    part = replace(given, lines=(half, *given.lines[1:]))
    assert not is_given(year, part), "one night of several is the plan's to keep together"
