from dataclasses import replace

import pytest

from floorcare.ground.crews.load_out import (
    branch_load_out,
    lines_of,
    load_out_of,
    summed,
)
from floorcare.ground.crews.week import CrewNight
from floorcare.ground.trade.equipment import Supply
from floorcare.ground.trade.people import RequirementKind, SiteRequirement
from floorcare.ground.trade.treatment import Work
from floorcare.ground.work.tool_life import learn_tool_life
from tests.builders import a_book, a_due, a_line
from tests.ground.crews.weeks import TUESDAY, a_machine, a_place, a_visit, a_week, fitted, stops_of

PACK = Supply(branch="EAST", material="protector", pack=2.0)


def coated(site: str = "NORTH", *zones: str, area_m2: float | None = 400.0):
    lines = tuple(
        a_line(a_due(Work.RECOAT, site=site, zone=zone, area_m2=area_m2, target=TUESDAY))
        for zone in zones or ("LANE",)
    )
    return replace(a_visit(site, work=Work.RECOAT), lines=lines)


MACHINES = (a_machine("S1", "scrubber"), a_machine("B1"))


def a_night(*visits, places=(), machines=MACHINES):
    week = a_week(*visits, places=places, machines=machines)
    night = next(night for night, _ in stops_of(fitted(week)))
    return week, night


def test_a_night_loads_its_machines_by_code_and_what_each_site_uses():
    week, night = a_night(coated(), coated("SOUTH", area_m2=200.0))
    out = load_out_of(week, night, supplies=(PACK,))
    assert [machine.code for machine in out.load.machines] == ["S1", "B1"]
    assert [stop.site for stop in out.stops] == ["NORTH", "SOUTH"]
    litres = [
        product.litres
        for load in (*(stop.load for stop in out.stops), out.load)
        for product in load.products
        if product.material == "protector"
    ]
    assert litres[2] == pytest.approx(litres[0] + litres[1])
    assert litres[0] == pytest.approx(2 * litres[1])
    # 600 m² at 98.17 m²/L with a tenth of waste are 6.7 L: four packs of two
    assert {p.material: p.containers for p in out.load.products}["protector"] == 4
    assert out.tank_l == out.stops[0].load.recover_l
    assert out.load.recover_l == pytest.approx(1.5 * out.tank_l)


def test_a_kind_is_named_where_no_machine_is_assigned():
    week, night = a_night(coated(), machines=())
    found = load_out_of(week, night).load.machines
    assert [(machine.code, machine.kind) for machine in found] == [
        ("", "scrubber"),
        ("", "burnisher"),
    ]


def test_a_machine_that_stands_on_the_site_is_not_loaded():
    there = (a_machine("S1", "scrubber", site="NORTH"), a_machine("B1"))
    week, night = a_night(coated(), machines=there)
    found = load_out_of(week, night).load.machines
    assert [(machine.code, machine.stands_at) for machine in found] == [("S1", "NORTH"), ("B1", "")]


def test_shares_of_a_set_add_up_before_pieces_are_rounded_up():
    week, night = a_night(coated(), coated("SOUTH"))
    lives = {"red_pad": learn_tool_life("red_pad", 1000.0, None)}
    out = load_out_of(week, night, lives=lives)
    pads = {tool.tool: tool for tool in out.load.tools}
    assert (pads["red_pad"].share, pads["red_pad"].pieces) == (pytest.approx(0.8), 1)
    assert (pads["burnish_pad"].share, pads["burnish_pad"].pieces) == (None, 1)
    worn = {"red_pad": learn_tool_life("red_pad", 500.0, None)}
    pads = {tool.tool: tool for tool in load_out_of(week, night, lives=worn).load.tools}
    assert pads["red_pad"].pieces == 2


def test_protection_follows_the_cautions_and_papers_the_sites():
    paper = SiteRequirement(kind=RequirementKind.PERMIT, name="night permit", each_worker=False)
    place = a_place(requirements=(paper,))
    week, night = a_night(coated(), places=(place,))
    out = load_out_of(week, night)
    assert {"signs_and_barriers", "wet_gloves", "ear_defenders"} <= set(out.protection)
    assert "respirator" not in out.protection
    assert out.papers == ("visit_list", "data_sheets")
    assert out.site_papers == (("NORTH", "night permit"),)


def test_an_area_nobody_knows_counts_as_nothing_and_is_named():
    week, night = a_night(coated(area_m2=None))
    out = load_out_of(week, night)
    assert out.load.unmeasured == ("NORTH/LANE",)
    assert (out.load.products, out.load.recover_l) == ((), 0.0)
    assert out.load.tools


def test_a_part_of_a_visit_loads_for_its_own_zones():
    place = a_place(zones=(a_book("LANE"), a_book("HALL")))
    week, night = a_night(coated("NORTH", "LANE", "HALL"), places=(place,))

    class Part:
        """A stop that does the hall alone."""

        zones = ("HALL",)
        visit = night.stops[0].visit
        machines = night.stops[0].machines

    assert [line.zone for line in lines_of(night.stops[0])] == ["LANE", "HALL"]
    assert [line.zone for line in lines_of(Part())] == ["HALL"]
    whole = load_out_of(week, night)
    part = load_out_of(week, replace(night, stops=(Part(),)))
    assert part.stops[0].zones == ("HALL",)
    assert part.load.recover_l == pytest.approx(whole.load.recover_l / 2)


def test_a_branchs_week_is_the_sum_of_its_nights_with_stops():
    week, night = a_night(coated())
    idle = CrewNight(crew="B", name="B crew", on=TUESDAY, people=2, longest_minutes=450)
    out = branch_load_out(week, (night, idle, night))
    assert [each.crew for each in out.nights] == ["A", "A"]
    assert out.load.recover_l == pytest.approx(2 * out.nights[0].load.recover_l)
    assert [machine.code for machine in out.load.machines] == ["S1", "B1"]
    assert summed(()).products == ()
