"""Books with what cannot be: it is left out and named, what is strange is asked about."""

import time
from dataclasses import replace

import numpy as np
import pytest

from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.reading import Reading, SurfaceState
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening, Station
from floorcare.ground.wear.books.book_doubts import believed_book, stations_by_site
from floorcare.ground.wear.fleet import Fleet, fit_fleet
from floorcare.ground.wear.sight import LEVEL
from tests.builders import BEGUN, DAY, TODAY, a_book, a_zone, look_promised, polished, read_down
from tests.store.sample import gloss

GOOD = a_book("GOOD")


def doubted(book: ZoneBook) -> tuple[ZoneBook, list[str]]:
    found = believed_book("N/LANE", book, {})
    assert all(f.weight == "asks" and f.mend and f.value for f in found.findings)
    return found.book, [f.problem for f in found.findings]


def beside_a_good_one(book: ZoneBook) -> Fleet:
    """Fitted with a zone nothing is wrong with, which is still estimated as if it were alone."""
    fleet = fit_fleet([("N", book), ("N", GOOD)], polished(), TODAY, draws=8)
    alone = fit_fleet([("N", GOOD)], polished(), TODAY, draws=8)
    assert np.allclose(fleet.fit.mean[1], alone.fit.mean[0], atol=1e-9)
    return fleet


def treated(work: Work, days_ago: int) -> TreatmentDone:
    return TreatmentDone(work=work, done_on=TODAY - days_ago * DAY)


def test_nothing_is_asked_about_a_sound_book() -> None:
    book, asked = doubted(GOOD)
    assert book is GOOD
    assert asked == []


def test_readings_before_care_are_named_and_left_out() -> None:
    early = (gloss(BEGUN - 30 * DAY, 70.0), gloss(BEGUN - 9 * DAY, 69.0))
    given = a_book(readings=(*early, *read_down(50.0)))
    book, (asked,) = doubted(given)
    assert book.readings == read_down(50.0)
    assert asked == (
        "zone N/LANE: the reading of station P1 on 2025-05-03 lies before 2025-06-02, where its"
        " care or its polish begins, the first of 2 such readings; it is kept but not used"
    )
    fleet = beside_a_good_one(given)
    assert fleet.fit.readings.tolist() == [6, 6]
    assert asked in [f.problem for f in fleet.findings]


def test_a_reading_after_the_work_of_the_eve_sees_the_floor_as_it_opens() -> None:
    eve = gloss(BEGUN - DAY, 60.0)
    assert eve.state is SurfaceState.AFTER_BURNISH
    assert doubted(a_book(readings=(eve,)))[1] == []
    cleaned = replace(eve, state=SurfaceState.AFTER_CLEANING)
    assert len(doubted(a_book(readings=(cleaned,)))[1]) == 1


def test_nothing_before_the_pour_is_believed_and_the_floor_begins_there() -> None:
    pour = TODAY - 90 * DAY
    given = a_book(
        zone=a_zone(poured_on=pour, polished_on=pour - DAY, opening=Opening.DATED),
        done=(treated(Work.REPOLISH, 100), treated(Work.BURNISH, 50)),
    )
    book, asked = doubted(given)
    assert min(r.taken_on for r in book.readings) >= pour
    assert [d.work for d in book.done] == [Work.BURNISH]
    assert "lies before the floor was poured on 2025-12-02, the first of" in asked[0]
    assert asked[1].startswith("zone N/LANE: the re-polish of 2025-11-22 lies before the floor was")
    assert asked[2].startswith("zone N/LANE was polished on 2025-12-01, before it was poured")
    fleet = beside_a_good_one(given)
    assert fleet.fit.columns.start_day[0] == (pour - BEGUN).days
    assert np.isfinite(fleet.fit.mean[0, LEVEL])


def test_a_coat_just_before_a_polish_is_asked_about_and_one_on_the_same_day_is_not() -> None:
    wrong = doubted(a_book(done=(treated(Work.RECOAT, 42), treated(Work.REPOLISH, 40))))[1]
    assert wrong == [
        "zone N/LANE: the recoat of 2026-01-19 comes before the re-polish of 2026-01-21, which"
        " takes it off again"
    ]
    right = ((40, 40), (38, 40), (48, 40))
    for coat, polish in right:
        assert (
            doubted(a_book(done=(treated(Work.RECOAT, coat), treated(Work.REPOLISH, polish))))[1]
            == []
        )


def test_a_station_of_another_zone_is_asked_about_once() -> None:
    moved = tuple(replace(r, station="P9") if r.station == "P1" else r for r in read_down(50.0))
    mine = a_book("A", readings=moved, stations=(Station(code="P2"), Station(code="P3")))
    other = a_book("B", stations=(Station(code="P9"), Station(code="P1")))
    by = stations_by_site([("N", mine), ("N", other), ("S", mine)])
    assert by["N"] == {"P2": ["A"], "P3": ["A"], "P9": ["B"], "P1": ["B"]}
    (asked,) = believed_book("N/A", mine, by["N"]).findings
    assert "was read at station P9 on 2025-10-07, which it does not have; it is listed in B" in (
        asked.problem
    )
    assert believed_book("N/A", replace(mine, stations=()), by["N"]).findings == ()


def test_gloss_values_all_the_same_are_asked_about_and_fitted() -> None:
    alike = a_book(readings=tuple(replace(r, value=50.0) for r in read_down(50.0)))
    (asked,) = doubted(alike)[1]
    assert asked.startswith("zone N/LANE: all 18 gloss values from 2025-10-07 to 2026-02-24 are")
    fleet = beside_a_good_one(alike)
    assert np.isfinite(fleet.fit.mean).all()
    assert np.isfinite(fleet.fit.covariance).all()
    few = a_book(readings=alike.readings[:7])
    assert doubted(few)[1] == []


def test_two_references_at_one_time_are_asked_about() -> None:
    one, other = look_promised(60.0), replace(look_promised(55.0), contract="C-2")
    assert doubted(a_book(promises=(one, other)))[1] == [
        "zone N/LANE has two references at one time: 60 GU in contract C-1 and 55 GU in C-2; the"
        " second is held to"
    ]
    later = replace(other, starts_on=TODAY, ends_on=TODAY + DAY)
    earlier = replace(one, ends_on=TODAY - DAY)
    assert doubted(a_book(promises=(earlier, later)))[1] == []
    assert doubted(a_book(promises=(one, replace(one, contract="C-2"))))[1] == []


def test_a_hundred_thousand_readings_of_one_zone_stay_quick() -> None:
    random = np.random.default_rng(1)
    spread = random.normal(0.0, 1.0, 100_000)
    days = (TODAY - BEGUN).days
    many = tuple(
        replace(gloss(BEGUN + int(i % days) * DAY, 50.0 + float(spread[i])), taken_minute=i // days)
        for i in range(spread.size)
    )
    began = time.perf_counter()
    fleet = beside_a_good_one(a_book(readings=tuple(sorted(many, key=lambda r: r.taken_on))))
    assert time.perf_counter() - began < 20.0
    assert fleet.fit.readings[0] == days
    assert np.isfinite(fleet.fit.mean).all()


@pytest.mark.parametrize("per_day", [0.0, 1_000_000.0])
def test_no_footfall_at_all_and_any_footfall_are_fitted(per_day: float) -> None:
    row = TrafficRow(kind="foot", per_day=per_day, counted=True, from_on=BEGUN)
    fleet = beside_a_good_one(a_book(traffic=(row,)))
    assert np.isfinite(fleet.fit.mean).all()


def test_what_is_no_number_never_becomes_a_record() -> None:
    nan = float("nan")
    with pytest.raises(ValueError, match="allowed"):
        replace(gloss(TODAY, 50.0), value=nan)
    with pytest.raises(ValueError, match="allowed"):
        TrafficRow(kind="foot", per_day=nan, counted=True, from_on=BEGUN)


def test_readings_of_a_floor_not_yet_poured_are_all_left_out() -> None:
    unborn: Reading = gloss(TODAY - 5 * DAY, 50.0)
    fleet = beside_a_good_one(a_book(zone=a_zone(poured_on=TODAY + 9 * DAY), readings=(unborn,)))
    assert fleet.fit.readings.tolist()[0] == 0
