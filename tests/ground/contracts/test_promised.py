from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.contracts.promised import (
    below_promise,
    conditions,
    promise_standing,
    promised_gu,
    promised_spans,
    promised_zones,
)
from floorcare.ground.schedule.branch_year import BranchYear, survey_branch
from floorcare.ground.trade.visit import VisitState
from floorcare.store.surfaces import load_surfaces
from tests.builders import look_promised, slip_promised
from tests.ground.contracts.agreed import (
    DAY,
    FIRST,
    LAST,
    TODAY,
    a_book,
    a_promised_zone,
    a_visit,
)
from tests.store.sample import gloss, portfolio, site_book, with_zone

SURFACES = load_surfaces()
EAST, WEST = portfolio().branches


def two_sites():
    return (a_book(), site_book("SOUTH", "WEST"))


def test_a_contracts_zones_are_those_its_lines_name_in_the_term():
    (zone,) = promised_zones((a_book(),), "C-1", FIRST, LAST)
    assert (zone.key, zone.spoken) == (("NORTH", "LANE"), "Hall, lane")
    assert len(zone.lines) == 3
    assert promised_zones((a_book(),), "C-2", FIRST, LAST) == ()
    assert promised_zones((a_book(),), "C-1", LAST + DAY, LAST + 9 * DAY) == ()
    (last_day,) = promised_zones((a_book(),), "C-1", LAST, LAST + 9 * DAY)
    assert last_day.lines == zone.lines


def test_the_codes_promises_name_stand_with_their_first_and_last_day():
    other = with_zone(
        site_book("SOUTH"),
        promises=(
            look_promised(starts_on=FIRST - DAY, ends_on=LAST),
            replace(slip_promised(), contract="A-9"),
        ),
    )
    spans = promised_spans((a_book(), other))
    assert list(spans) == ["A-9", "C-1"]
    assert spans["C-1"] == (FIRST - DAY, LAST)


def test_the_promise_of_the_look_is_that_of_the_day():
    early = look_promised(starts_on=FIRST, ends_on=TODAY - DAY)
    late = look_promised(reference_gu=50.0, starts_on=TODAY, ends_on=LAST)
    zone = replace(a_promised_zone(), lines=(slip_promised(), early, late))
    assert zone.appearance(TODAY - DAY) == early
    assert zone.appearance(TODAY) == late
    assert zone.appearance(LAST + DAY) is None
    overlapping = replace(zone, lines=(replace(early, ends_on=LAST), late))
    assert overlapping.appearance(TODAY) == late
    concrete = SURFACES["polished_concrete"]
    assert promised_gu(late, concrete) == pytest.approx(40.0)
    assert promised_gu(replace(late, reference_gu=None), concrete) is None


def test_conditions_are_those_of_a_survey_of_each_branch_and_of_a_site_alone():
    books = two_sites()
    off = replace(a_visit(TODAY + DAY), state=VisitState.CANCELLED)
    found = conditions((EAST, WEST), books, (off,), SURFACES, {}, TODAY)
    assert set(found) == {("NORTH", "LANE"), ("SOUTH", "LANE")}
    year = BranchYear(
        branch=EAST,
        books=books[:1],
        surfaces=SURFACES,
        standing=(),
        today=TODAY,
        last_on=date(2027, 3, 1),
    )
    assert (found["NORTH", "LANE"],) == survey_branch(year)
    alone = conditions((EAST, WEST), books[1:], (), SURFACES, {}, TODAY)
    assert alone == {("SOUTH", "LANE"): found["SOUTH", "LANE"]}


def test_zones_below_guarded_and_by_evidence_are_counted():
    sound = a_promised_zone()
    outlooks = conditions((EAST,), (sound.book,), (), SURFACES, {}, TODAY)
    # the last slip test of that book lies below the promised 0.45
    standing = promise_standing((sound,), outlooks, SURFACES, TODAY)
    assert (standing.below, standing.guarded) == (0, 1)
    assert sum(number for _, number in standing.evidence) == 1
    worn = a_promised_zone(
        with_zone(a_book(), readings=tuple(gloss(TODAY - n * DAY, 40.0) for n in (40, 20, 5)))
    )
    worn_outlooks = conditions((EAST,), (worn.book,), (), SURFACES, {}, TODAY)
    assert below_promise(worn, worn_outlooks[worn.key], SURFACES, TODAY)
    assert promise_standing((worn,), worn_outlooks, SURFACES, TODAY).below == 1


def test_what_is_not_promised_or_not_under_care_is_not_counted():
    zone = a_promised_zone()
    outlooks = conditions((EAST,), (zone.book,), (), SURFACES, {}, TODAY)
    answer_only = replace(zone, lines=zone.lines[2:])
    assert promise_standing((answer_only,), outlooks, SURFACES, TODAY).evidence == ()
    assert not below_promise(answer_only, outlooks[zone.key], SURFACES, TODAY)
    assert promise_standing((zone,), {}, SURFACES, TODAY).evidence == ()


def test_promised_slip_nobody_tested_is_unknown_and_not_kept():
    tested = a_promised_zone()
    outlooks = conditions((EAST,), (tested.book,), (), SURFACES, {}, TODAY)
    assert promise_standing((tested,), outlooks, SURFACES, TODAY).slip_unknown == 0
    untested = replace(tested, zone=replace(tested.zone, readings=()))
    assert promise_standing((untested,), outlooks, SURFACES, TODAY).slip_unknown == 1
    no_slip = replace(untested, lines=(look_promised(),))
    assert promise_standing((no_slip,), outlooks, SURFACES, TODAY).slip_unknown == 0
