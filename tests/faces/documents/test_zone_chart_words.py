from dataclasses import replace
from datetime import timedelta

import pytest

from floorcare.faces.documents.zone_chart_words import (
    LONGEST_NAME,
    answer,
    cut,
    description,
    name,
    rhythm_words,
    title,
)
from floorcare.ground.schedule.course import CourseTick
from floorcare.ground.trade.treatment import Work
from tests.golden.charts import ASSUMED, MEASURED
from tests.golden.sheets import MONDAY


def spoken(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_a_measured_zone_answers_with_its_gloss_band_promise_and_next_work() -> None:
    assert spoken(answer(MEASURED.row)) == (
        "47 GU today (44 to 49 with 90 %); promised 45; nights to promise: 24; measured; "
        "next recoat Wed 4 Mar."
    )


def test_a_zone_without_promise_is_not_held_against_one() -> None:
    said = spoken(answer(replace(MEASURED.row, promise_gu=None)))
    assert "promise" not in said
    assert said.startswith("47 GU today")


def test_an_assumed_zone_gives_no_figure_that_nobody_knows() -> None:
    assert spoken(answer(ASSUMED.row)) == (
        "Gloss not known, assumed; next reading round Wed 4 Mar."
    )
    promised = replace(ASSUMED.row, promise_gu=44.0, next_night=None)
    assert spoken(answer(promised)) == "Gloss not known, assumed; promised 44 GU."


def test_a_guarded_zone_says_so() -> None:
    assert "guarded, slip" in answer(replace(MEASURED.row, evidence="guarded, slip"))


def test_the_account_tells_all_that_is_drawn() -> None:
    assert spoken(description(MEASURED)) == (
        "47 GU today (44 to 49 with 90 %); promised 45; nights to promise: 24; measured; "
        "next recoat Wed 4 Mar. 7 gloss readings since 3 March 2025, 1 of them not fitting the "
        "others; the last 47 GU on 10 February 2026, after burnish. With the work planned so far "
        "about 50 GU on 1 June 2026, between 47 and 53 with 90 %. With the work planned so far "
        "about 46 GU on 31 August 2026, between 43 and 50 with 90 %. Promised 45 GU after burnish "
        "until 31 July 2026, of a reference of 56 GU. Done since 3 March 2025: recoat 23 September "
        "2025, re-polish about 27 March 2025. Planned until 31 August 2026: part of recoat 13 "
        "April 2026, recoat 15 April 2026. Routine: burnish 2 a week."
    )


def test_the_account_of_a_zone_nobody_read_speaks_of_work_alone() -> None:
    said = spoken(description(ASSUMED))
    assert "No gloss reading since 3 March 2025." in said
    assert "with 90 %" not in said
    assert "Promised" not in said
    assert said.endswith("Planned until 31 August 2026: burnish 4 March 2026, burnish 5 June 2026.")


def test_many_works_are_counted_after_the_first_few() -> None:
    ticks = tuple(
        CourseTick(on=MONDAY + n * timedelta(days=7), work=Work.BURNISH, planned=True)
        for n in range(1, 11)
    )
    chart = replace(MEASURED, course=replace(MEASURED.course, ticks=ticks))
    assert "and 4 more." in description(chart)
    assert "Done since 3 March 2025: nothing." in spoken(description(chart))


def test_the_title_names_zone_and_day() -> None:
    assert title(MEASURED) == "Gloss of MARKET/LANE-1, Hall B, main lane, on Monday 2 March 2026"


def test_a_name_says_its_area_once_and_is_cut_where_it_is_endless() -> None:
    row = MEASURED.row
    assert name(replace(row, area_name="Pier", zone_name="Pier lane")) == "Pier lane"
    assert name(replace(row, area_name="Canteen", zone_name="")) == "Canteen"
    assert cut("a\n b\t c") == "a b c"
    endless = cut("x" * 100_000)
    assert len(endless) == LONGEST_NAME
    assert endless.endswith("…")


@pytest.mark.parametrize(
    ("every", "said"),
    [
        (1.0, "daily"),
        (1.4, "5 a week"),
        (3.5, "2 a week"),
        (7.0, "weekly"),
        (14.0, "every 14 days"),
    ],
)
def test_a_rhythm_is_said_as_people_say_it(every: float, said: str) -> None:
    assert rhythm_words(every) == said
