from datetime import date

import pytest

from floorcare.faces.documents import wording

NIGHT = date(2026, 12, 31)


@pytest.mark.parametrize(
    ("minute", "said", "iso"),
    [
        (0, "00:00", "2026-12-31 00:00"),
        (1439, "23:59", "2026-12-31 23:59"),
        (1440, "Fri\u00a000:00", "2027-01-01 00:00"),
        (3000, "Sat\u00a002:00", "2027-01-02 02:00"),
        (None, "–", ""),
    ],
)
def test_times_past_midnight_name_the_next_day_even_over_new_year(minute, said, iso):
    assert wording.clock(minute, NIGHT) == said
    assert wording.clock_iso(minute, NIGHT) == iso


def test_us_figures_use_the_exact_factors():
    assert wording.area_figure(929.0304, "US") == 10_000
    assert wording.volume_figure(3.785411784, "US") == 1
    assert wording.area_words(929.0304, "US") == "10,000 ft²"
    assert wording.volume_words(3.785411784, "US") == "1.00 gal"


def test_an_unknown_area_is_a_dash():
    assert wording.area_words(None, "metric") == "–"


def test_lengths_of_whole_hours_have_no_minutes():
    assert [wording.length(m) for m in (0, 59, 60, 61)] == ["0 min", "59 min", "1 h", "1 h 1 min"]


def test_gloss_is_said_in_whole_units():
    assert [wording.gloss_words(gloss) for gloss in (None, 46.6)] == ["–", "47"]
