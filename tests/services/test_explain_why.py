from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.errors import NotKnown
from floorcare.ground.trade.treatment import TREATMENTS
from floorcare.services.explain_why import explain_why
from floorcare.services.load_care import load_care
from tests.services.conftest import TODAY
from tests.store.sample import NOW, portfolio, site_book, with_zone

DAY = timedelta(days=1)


def visits_of(store):
    with store.work() as work:
        return work.visits(first=TODAY)


def test_a_visit_is_explained_by_its_id_or_its_beginning(planned, surfaces):
    visit = visits_of(planned)[0]
    whole = explain_why(planned, surfaces, target=visit.uuid, today=TODAY)
    short = explain_why(planned, surfaces, target=visit.uuid[:8].upper(), today=TODAY)
    assert whole == short
    assert whole.about == "visit"
    assert whole.night == visit.night
    assert [w.inside for w in whole.works] == [p.due.reason.inside for p in visit.lines]
    assert all(w.earliest <= w.target <= w.latest for w in whole.works)


def test_a_zone_is_explained_with_what_comes_and_what_would_change_it(planned, surfaces):
    answer = explain_why(planned, surfaces, target="SOUTH/LANE", today=TODAY)
    nights = {
        v.night
        for v in visits_of(planned)
        if v.site == "SOUTH"
        for p in v.lines
        if p.zone == "LANE"
    }
    assert {night for work in answer.works for night in work.nights} == nights
    assert answer.outlook.zone == "LANE"
    assert answer.works[0].work in {work.value for work in TREATMENTS}
    assert [one.supposed for one in answer.what_ifs]
    assert answer.works == tuple(sorted(answer.works, key=lambda w: w.nights[0]))


@pytest.mark.parametrize(
    ("target", "words"),
    [
        ("abc", "at least 6 characters"),
        ("ffffffff", "no visit"),
        ("NOWHERE/LANE", 'no site "NOWHERE"'),
        ("NORTH/NOWHERE", "it has"),
    ],
)
def test_what_is_not_known_is_said_with_what_is(planned, surfaces, target, words):
    with pytest.raises(NotKnown, match=words):
        explain_why(planned, surfaces, target=target, today=TODAY)


def test_a_beginning_of_several_visits_asks_for_more(planned, surfaces, monkeypatch):
    monkeypatch.setattr("floorcare.services.explain_why.SHORTEST_ID", 0)
    with pytest.raises(NotKnown, match="begins several visits"):
        explain_why(planned, surfaces, target="", today=TODAY)


def test_a_zone_whose_care_has_ended_is_told_so(loaded, surfaces):
    book = site_book("NORTH", "EAST")
    ended = tuple(
        replace(z, zone=replace(z.zone, spans=(replace(z.zone.spans[-1], to_on=TODAY - DAY),)))
        for z in book.zones
    )
    load_care(loaded, portfolio(replace(book, zones=ended)), who="office", now=NOW)
    with pytest.raises(NotKnown, match="The care of NORTH/LANE ended on"):
        explain_why(loaded, surfaces, target="NORTH/LANE", today=TODAY)


def test_a_zone_is_explained_with_what_a_person_should_look_at(loaded, surfaces):
    book = site_book("NORTH", "EAST")
    before = book.zones[0].traffic[0]
    more = replace(before, per_day=2.0 * before.per_day, from_on=TODAY - 89 * DAY)
    rows = (replace(before, to_on=TODAY - 90 * DAY), more)
    load_care(loaded, portfolio(with_zone(book, traffic=rows)), who="office", now=NOW)
    (alarm,) = explain_why(loaded, surfaces, target="NORTH/LANE", today=TODAY).alarms
    assert "NORTH/LANE is walked 2.0 times as much as a year before" in alarm.says
