from dataclasses import replace
from datetime import date

import pytest

from floorcare.faces.cli.learn_account import NOISE_WORDS, learned_said
from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.ground.wear.pooled import Noise
from floorcare.services.learn_wear import (
    ClassLearned,
    NoiseLearned,
    SurfaceLearned,
    WearLearned,
)

HEAVY = ClassLearned(
    traffic="heavy",
    counted=True,
    zones_there=1200,
    zones_read=1104,
    haze_times=1.314,
    haze_low=0.72,
    haze_high=2.41,
    wear_times=0.9,
    wear_low=0.55,
    wear_high=1.5,
    hidden=2208,
    inside=0.853,
    band_scale=1.17,
)
UNREAD = replace(HEAVY, traffic="light", counted=False, zones_there=3, zones_read=0, hidden=0)
UNREAD = replace(UNREAD, inside=None, band_scale=1.0)
EMPTY = replace(UNREAD, traffic="extreme", zones_there=0)
NOISE = tuple(NoiseLearned(name=n, learned=0.004, own=0.02) for n in Noise.__slots__)
CONCRETE = SurfaceLearned(
    surface="polished_concrete",
    name="polished concrete",
    zones=1203,
    classes=(UNREAD, HEAVY, EMPTY),
    noise=NOISE,
)
ANSWER = WearLearned(
    written=True,
    same=False,
    number=4,
    learned_on=date(2026, 11, 23),
    before=3,
    surfaces=(CONCRETE,),
)


def test_the_version_comes_first_and_that_plans_read_it_from_now_on():
    lines = learned_said(ANSWER).splitlines()
    assert lines[0] == (
        "Version 4, learned on 23 November 2026 from 1,203 zones, 1,104 with readings to learn "
        "from."
    )
    assert lines[1].startswith("Every plan reads it from now on, and no plan changes it;")


def test_each_class_with_a_zone_has_its_row_and_figures_stand_below_their_heading():
    lines = learned_said(ANSWER).splitlines()
    at = lines.index("polished concrete: 1,203 zones")
    head, light, heavy, rest = lines[at + 1 : at + 5]
    assert head.split()[:2] == ["traffic,", "footfall"]
    assert heavy.split("  ")[1] == "heavy, counted"
    for figure, title in (
        ("1,104 of 1,200", "zones read"),
        ("1.31 ×", "haze"),
        ("0.90 ×", "wear"),
        ("85% of 2,208", "in 90 % band"),
        ("1.17 ×", "bands"),
    ):
        assert heavy.index(figure) + len(figure) == head.index(title) + len(title), title
    assert "0.7 to 2.4" in heavy
    assert "light, by level" in light
    assert "0 of 3" in light
    assert "–" in light
    assert rest == "  and 1 class without a zone (--json)"
    assert len(light) == len(heavy) == len(head)


def test_errors_stand_beside_the_files_own_and_walks_are_told_by_the_month():
    lines = learned_said(ANSWER).splitlines()
    station = next(line for line in lines if line.startswith("  a station"))
    assert station.split()[-2:] == ["0.4%", "2.0%"]
    # thirty days of a random walk: the root of thirty times a day's step
    drift = next(line for line in lines if line.startswith("  drift over 30 days"))
    assert drift.split()[-2:] == ["2.2%", "11.0%"]


def test_every_error_of_a_surface_has_its_words():
    assert set(NOISE_WORDS) == set(Noise.__slots__)


def test_what_the_columns_mean_closes_the_account():
    assert learned_said(ANSWER).endswith("the factor that makes today's bands honest.")


def test_nothing_new_is_said_so():
    same = replace(ANSWER, written=False, same=True, number=3, learned_on=date(2026, 8, 1))
    said = learned_said(same)
    assert said.startswith("Nothing new: what 1,203 zones, 1,104 with readings to learn from, ")
    assert "show is version 3, learned on 1 August 2026.\nNothing was written" in said


@pytest.mark.parametrize(
    ("before", "reads"), [(3, "version 3"), (None, "the surface files' own figures")]
)
def test_a_dry_run_says_what_plans_go_on_reading(before, reads):
    said = learned_said(replace(ANSWER, written=False, before=before))
    assert said.startswith("Dry run: what 1,203 zones,")
    assert f"Nothing was written; plans read {reads}." in said


def test_where_nothing_is_entered_the_next_step_is_told():
    nothing = WearLearned(
        written=False, same=False, number=None, learned_on=None, before=None, surfaces=()
    )
    assert learned_said(nothing) == NO_BRANCH
