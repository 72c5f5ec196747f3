from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.contracts.history import (
    RowKind,
    TermRow,
    count_rhythms,
    count_works,
    term_rows,
)
from floorcare.ground.trade.book import DateKnown, TreatmentDone
from floorcare.ground.trade.reading import Measure, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import VisitState
from tests.ground.contracts.agreed import DAY, FIRST, LAST, TODAY, a_book, a_promised_zone, a_visit
from tests.store.sample import due, gloss, with_zone


def rows_of(*visits, zone=None, today=TODAY, first=FIRST, last=LAST):
    return term_rows((zone or a_promised_zone(),), visits, first=first, last=last, today=today)


def only(rows, work):
    (row,) = (r for r in rows if r.work is work)
    return row


def test_what_was_done_and_read_in_the_term_stands_by_night_and_what_lies_before_it_does_not():
    rows = rows_of()
    assert [(r.on, r.work.value) for r in rows] == [
        (date(2025, 6, 2), "reading round"),
        (date(2025, 9, 8), "reading round"),
        (date(2025, 10, 6), "slip test"),
        (date(2025, 11, 15), "recoat"),
    ]
    assert {(r.site, r.zone, r.zone_name) for r in rows} == {("NORTH", "LANE", "Hall, lane")}


def test_a_treatment_tells_how_well_its_date_is_known_who_did_it_and_how_much():
    coat = only(rows_of(), Work.RECOAT)
    assert (coat.kind, coat.known, coat.about_days) == (RowKind.DONE, DateKnown.ABOUT, 15)
    assert (coat.performer, coat.share) == ("us", 1.0)


def test_a_round_is_the_mean_of_its_stations_and_a_share_of_the_reference_in_its_own_state():
    burnished, cleaned = (r for r in rows_of() if r.work is Work.READING_ROUND)
    assert (burnished.measure, burnished.value, burnished.stations) == ("gloss 60°", 56.0, 2)
    assert burnished.performer == "A. Moor, R. Vale"
    assert burnished.reference_share == pytest.approx(56.0 / 60.0)
    assert (cleaned.state, cleaned.reference_share) == (SurfaceState.AFTER_CLEANING, None)


@pytest.mark.parametrize(
    "changes", [{"geometry_deg": 20}, {"measure": Measure.DOI, "geometry_deg": 0}]
)
def test_another_angle_or_measure_is_not_set_against_the_reference(changes):
    reading = replace(gloss(date(2025, 6, 2), 50.0), **changes)
    zone = a_promised_zone(with_zone(a_book(), readings=(reading,), done=()))
    (row,) = rows_of(zone=zone)
    assert (row.value, row.reference_share) == (50.0, None)


def test_the_worst_station_speaks_for_a_slip_test():
    test = only(rows_of(), Work.SLIP_TEST)
    assert (test.measure, test.value, test.stations) == ("wet DCOF", 0.44, 2)
    assert (test.limit, test.passes) == (0.45, False)


def test_a_method_that_cannot_be_judged_has_neither_limit_nor_verdict():
    book = a_book()
    old = tuple(
        replace(r, method="ASTM C1028") for r in book.zones[0].readings if r.measure is Measure.SLIP
    )
    test = only(rows_of(zone=a_promised_zone(with_zone(book, readings=old))), Work.SLIP_TEST)
    assert (test.limit, test.passes) == (None, None)


def test_visits_to_the_terms_end_are_planned_tonights_too():
    tonight, later = a_visit(TODAY), replace(a_visit(LAST), uuid="later")
    beyond = replace(a_visit(LAST + DAY), uuid="beyond")
    planned = [r for r in rows_of(tonight, later, beyond) if r.kind is RowKind.PLANNED]
    assert [(r.on, r.work, r.share) for r in planned] == [
        (TODAY, Work.RECOAT, 1.0),
        (LAST, Work.RECOAT, 1.0),
    ]


def test_a_part_of_a_zone_and_a_round_of_it_are_planned_as_such():
    half = replace(due(), area_m2=210.25)
    reading = replace(due(), work=Work.READING_ROUND)
    planned = [r for r in rows_of(a_visit(TODAY + DAY, half, reading)) if r.kind is RowKind.PLANNED]
    assert [(r.work, r.share) for r in planned] == [
        (Work.RECOAT, 0.5),
        (Work.READING_ROUND, None),
    ]


@pytest.mark.parametrize(
    ("state", "kinds"),
    [
        (VisitState.PROPOSED, [RowKind.UNREPORTED]),
        (VisitState.HELD, [RowKind.UNREPORTED]),
        (VisitState.NO_ACCESS, [RowKind.NO_ACCESS]),
        (VisitState.DONE, []),
        (VisitState.CANCELLED, []),
    ],
)
def test_a_past_visit_that_nobody_reported_says_so(state, kinds):
    past = replace(a_visit(date(2026, 2, 10)), state=state)
    assert [r.kind for r in rows_of(past) if r.on == past.night] == kinds


@pytest.mark.parametrize("done_on", [date(2026, 2, 10), date(2026, 2, 11)])
def test_a_past_visit_whose_work_is_recorded_is_not_told_twice(done_on):
    past = a_visit(date(2026, 2, 10))
    done = TreatmentDone(work=Work.RECOAT, done_on=done_on)
    zone = a_promised_zone(with_zone(a_book(), done=(done,)))
    recent = [r.kind for r in rows_of(past, zone=zone) if r.on >= past.night]
    assert recent == [RowKind.DONE]


def test_lines_on_zones_without_a_promise_of_the_contract_stay_out():
    assert len(rows_of(a_visit(TODAY, site="SOUTH"))) == len(rows_of())
    other = replace(due(), zone="EDGE")
    assert len(rows_of(a_visit(TODAY, other))) == len(rows_of())


def a_row(on: date, share: float | None = 1.0, **more) -> TermRow:
    own = {"zone": "LANE", "kind": RowKind.DONE, "work": Work.REPOLISH, **more}
    return TermRow(site="NORTH", zone_name="lane", on=on, share=share, **own)


def test_parts_within_a_fortnight_count_once_and_what_was_only_begun_is_told_apart():
    nights = (date(2025, 7, 7), date(2025, 7, 8), date(2025, 9, 1), date(2025, 9, 20))
    (count,) = count_works([a_row(on, 0.5) for on in nights])
    assert (count.work, count.done, count.part_done) == (Work.REPOLISH, 1, 2)
    (twice,) = count_works([a_row(nights[0]), a_row(nights[1])])
    assert (twice.done, twice.part_done) == (2, 0)
    (planned,) = count_works([a_row(on, 0.5, kind=RowKind.PLANNED) for on in nights[1:3]])
    assert (planned.planned, planned.part_done) == (2, 0)


def test_works_are_counted_by_what_became_of_them_in_the_ladders_order():
    on = date(2025, 7, 7)
    rows = [
        a_row(on, None, work=Work.READING_ROUND, kind=RowKind.READ, measure="gloss 60°"),
        a_row(on, None, work=Work.READING_ROUND, kind=RowKind.READ, measure="DOI"),
        a_row(on, zone="EDGE"),
        a_row(on),
        a_row(on, kind=RowKind.PLANNED),
        a_row(on, kind=RowKind.UNREPORTED),
        a_row(on, kind=RowKind.NO_ACCESS),
    ]
    polish, rounds = count_works(rows)
    assert (polish.work, rounds.work) == (Work.REPOLISH, Work.READING_ROUND)
    assert (polish.done, polish.planned, polish.unreported, polish.no_access) == (2, 1, 1, 1)
    assert rounds.done == 1


def test_a_standing_round_is_counted_in_days_so_far_and_to_come():
    rhythm = Routine(
        work=Work.BURNISH,
        rule="FREQ=WEEKLY;BYDAY=MO",
        starts_on=FIRST,
        performer=Performer.US,
        proof=Proof.CONFIRMED,
    )
    rare = replace(rhythm, work=Work.RECOAT, rule="FREQ=WEEKLY;INTERVAL=10")
    book = with_zone(a_book(), routines=(rhythm, rare))
    zone = a_promised_zone(book)
    edge = replace(zone, zone=replace(zone.zone, zone=replace(zone.zone.zone, code="EDGE")))
    (count,) = count_rhythms(
        (zone, edge), first=date(2026, 2, 16), last=date(2026, 3, 15), today=TODAY
    )
    assert (count.work, count.performer, count.zones) == (Work.BURNISH, Performer.US, 2)
    assert (count.so_far, count.to_come) == (3, 1)  # 16 and 23 February, today; 9 March
    assert count_rhythms((zone,), first=FIRST - 9 * DAY, last=FIRST - 8 * DAY, today=TODAY) == ()
