from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.ground.schedule.material_use import (
    round_uses,
    tool_lives,
    visit_uses,
    with_lives,
)
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.equipment import StockEntry, StockMove
from floorcare.ground.trade.routine import Performer
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Visit, VisitState
from tests.builders import TODAY, a_book, a_due, a_line, a_site_book, polished, routinely

DAY = timedelta(days=1)
SURFACES = {"polished_concrete": polished()}


def a_visit(**more) -> Visit:
    own = {"lines": (a_line(a_due(Work.RECOAT, area_m2=100.0)),), **more}
    return Visit(
        uuid="1",
        site="NORTH",
        night=TODAY + DAY,
        starts_minute=1320,
        minutes=60,
        people=2,
        **own,
    )


def used(book=None, visit=None):
    books = {"NORTH": book or a_site_book("NORTH", a_book())}
    return list(visit_uses([visit or a_visit()], books, SURFACES))


def pads(day, move: StockMove, quantity: float) -> StockEntry:
    return StockEntry(
        branch="EAST", material="red_pad", on=day, move=move, quantity=quantity, unit="pieces"
    )


def test_a_visit_uses_its_products_and_its_tools_on_its_night():
    found = {use.material: use for use in used()}
    assert found["protector"].on == TODAY + DAY
    assert found["protector"].quantity == pytest.approx(100 / 98.17 * 1.1, rel=1e-3)
    assert (found["red_pad"].unit, found["red_pad"].quantity) == ("pieces", None)


def test_fewer_metres_use_less_and_what_is_over_uses_nothing():
    half = a_visit(lines=(a_line(a_due(Work.RECOAT, area_m2=50.0)),))
    whole, part = ({u.material: u.quantity for u in used(visit=v)} for v in (a_visit(), half))
    assert part["protector"] == pytest.approx(whole["protector"] / 2)
    assert used(visit=a_visit(state=VisitState.DONE)) == []
    assert used(visit=a_visit(state=VisitState.CANCELLED)) == []


def test_our_own_standing_rounds_use_their_cleaner_and_those_of_others_none():
    ours = a_book(routines=(routinely(Work.CLEAN, "FREQ=WEEKLY;BYDAY=TU,FR"),))
    theirs = a_book(
        routines=(routinely(Work.CLEAN, "FREQ=WEEKLY;BYDAY=TU,FR", by=Performer.SITE_TEAM),)
    )

    def litres(book):
        books = [a_site_book("NORTH", book)]
        span = {"first": TODAY, "last": TODAY + 6 * DAY}
        found = round_uses("EAST", books, SURFACES, **span)
        return [u.quantity for u in found if u.material == "neutral_cleaner"]

    # 400 m² twice: 600 ft²/gal of mix at 1:128, a tenth of waste
    assert litres(ours) == pytest.approx([400 / (14.725 * 129) * 1.1] * 2, rel=1e-3)
    assert litres(theirs) == []
    assert not list(
        round_uses("WEST", [a_site_book("NORTH", ours)], SURFACES, first=TODAY, last=TODAY + DAY)
    )


def test_a_life_is_learned_from_the_work_between_the_first_entry_and_the_last_use():
    def done(ago: int, share: float = 1.0) -> TreatmentDone:
        return TreatmentDone(work=Work.RECOAT, done_on=TODAY - ago * DAY, share=share)

    book = a_book(routines=(), done=(done(40), done(20), done(10, 0.5), done(1)))
    stock = (
        pads(TODAY - 40 * DAY, StockMove.COUNTED, 10),
        pads(TODAY - 15 * DAY, StockMove.USED, 1),
        pads(TODAY - 5 * DAY, StockMove.USED, 1),
    )
    lives = tool_lives("EAST", [a_site_book("NORTH", book)], SURFACES, stock)
    # 400 m² and half of it; the first day belongs to the count, the last to nobody yet
    assert (lives["red_pad"].sets, lives["red_pad"].worked_m2) == (2, 600.0)
    assert lives["red_pad"].life_m2 == pytest.approx(600 / 2.5)
    assert lives["white_pad"].known_by == "not known"
    elsewhere = tool_lives("WEST", [a_site_book("NORTH", book)], SURFACES, stock)
    assert elsewhere["red_pad"].known_by == "not known"
    learned = with_lives(polished(), lives)
    assert learned.tools["red_pad"].life_m2 == pytest.approx(240)
    visits = list(
        visit_uses(
            [a_visit()], {"NORTH": a_site_book("NORTH", book)}, {"polished_concrete": learned}
        )
    )
    assert {u.material: u.quantity for u in visits}["red_pad"] == pytest.approx(100 / 240)


def test_three_pieces_of_a_three_headed_machine_are_one_set():
    done = TreatmentDone(work=Work.REPOLISH, done_on=TODAY - 20 * DAY)
    stock = tuple(
        replace(entry, material="resin_800")
        for entry in (
            pads(TODAY - 40 * DAY, StockMove.COUNTED, 10),
            pads(TODAY - 5 * DAY, StockMove.USED, 3),
        )
    )
    book = a_site_book("NORTH", a_book(routines=(), done=(done,)))
    life = tool_lives("EAST", [book], SURFACES, stock)["resin_800"]
    assert (life.sets, life.worked_m2) == (1, 800.0)
