from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from floorcare.ground.trade.book import Portfolio, withdrawal_of
from floorcare.ground.trade.crew import Absence, CrewMember, Qualification
from floorcare.ground.trade.equipment import Calibration, MachinePlace
from tests.store.means import (
    BRIDGE,
    CALL,
    CONTACT,
    CONTRACT,
    CREW,
    HIRED,
    LEG,
    MACHINE,
    METERS,
    PERSON,
    RATE,
    STOCK,
    SUPPLY,
    WORKER,
    with_means,
)
from tests.store.sample import LATER, site_book

EAST, WEST, BOTH, NEITHER = {"EAST"}, {"WEST"}, {"EAST", "WEST"}, set()
AWAY = Absence(from_on=date(2026, 3, 2), to_on=date(2026, 3, 6))
HELD = Qualification(name="lift", from_on=HIRED)
MOVED = MachinePlace(branch="WEST", site="", from_on=date(2026, 4, 1))


@pytest.mark.parametrize(
    ("brought", "revised"),
    [
        (Portfolio(workers=(replace(WORKER, name="R. V. Vale"),)), EAST),
        (Portfolio(workers=(replace(WORKER, branch="WEST"),)), BOTH),
        (Portfolio(workers=(replace(WORKER, qualifications=(HELD,)),)), EAST),
        (Portfolio(crews=(replace(CREW, branch="WEST"),)), BOTH),
        (
            Portfolio(
                crews=(
                    replace(CREW, members=(CrewMember(worker="VALE", from_on=date(2026, 9, 1)),)),
                )
            ),
            EAST,
        ),
        (
            Portfolio(crews=(replace(CREW, shifts=(replace(CREW.shifts[0], break_minutes=45),)),)),
            EAST,
        ),
        # It stood at the branch EAST, and now at a site that WEST serves.
        (Portfolio(machines=(replace(MACHINE, fuel=""),)), BOTH),
        (Portfolio(machines=(replace(MACHINE, places=(MOVED,)),)), BOTH),
        (
            Portfolio(
                machines=(replace(MACHINE, out_of_order=((date(2026, 5, 4), date(2026, 5, 4)),)),)
            ),
            BOTH,
        ),
        (Portfolio(rates=(replace(RATE, amount=Decimal(33)),)), EAST),
        (
            Portfolio(
                instruments=(
                    replace(
                        METERS[1],
                        calibrations=(Calibration(done_on=HIRED, valid_to=date(2027, 1, 1)),),
                    ),
                )
            ),
            BOTH,
        ),
        (Portfolio(bridges=(replace(BRIDGE, offset_gu=-2.0),)), BOTH),
        (Portfolio(calls=(replace(CALL, closed_at=LATER),)), EAST),
        (Portfolio(withdrawn=(withdrawal_of("NORTH", "LANE", CALL),)), EAST),
        (
            Portfolio(withdrawn=(withdrawal_of("SOUTH", "", site_book().site.shut_days[0]),)),
            WEST,
        ),
        (Portfolio(legs=(replace(LEG, minutes=29),)), EAST),
        (Portfolio(workers=(replace(WORKER, absences=(AWAY,)),)), EAST),
        (Portfolio(supplies=(replace(SUPPLY, reserve=1.0),)), NEITHER),
        (Portfolio(stock=(replace(STOCK, quantity=1.0),)), NEITHER),
        (Portfolio(contacts=(replace(CONTACT, phone=""),)), NEITHER),
        (Portfolio(people=(replace(PERSON, email=""),)), NEITHER),
        (Portfolio(contracts=(replace(CONTRACT, name="Halls"),)), NEITHER),
    ],
)
def test_the_branches_whose_plans_read_it_have_a_new_revision(put, read, brought, revised):
    put(with_means())
    put(brought, now=LATER)
    assert {code for code, revision in read("revisions").items() if revision > 1} == revised
    assert len(read("history")) == 2
