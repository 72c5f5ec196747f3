from dataclasses import replace
from datetime import date

import pytest

from floorcare.faces.documents.contract_history_text import answer, as_text
from floorcare.ground.contracts.history import RowKind
from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.reading import SurfaceState
from floorcare.ground.trade.treatment import Work
from tests.golden.contract_sheets import FIRST, HISTORY, LAST, LOOSE, lane

ON = date(2025, 6, 2)
BLANK = "\N{NO-BREAK SPACE}"


def night_of(*rows):
    """The only entry the first site's past shows."""
    site = as_text(replace(HISTORY, rows=rows))["sites"][0]
    (entry,) = site["past"]
    return entry


def test_the_first_line_counts_what_was_done_what_is_planned_and_what_nobody_reported():
    assert answer(HISTORY) == (
        "1 treatment, 2 reading rounds and 1 slip test done; 2 treatments planned to 31 December "
        "2026; nothing reported of 1."
    )


def test_the_plan_reaches_no_further_than_its_own_end():
    short = replace(HISTORY, planned_to=date(2026, 9, 1))
    assert "planned to 1 September 2026" in answer(short)


def test_a_term_without_any_work_says_so():
    empty = replace(HISTORY, works=(), rows=())
    assert answer(empty) == "Nothing was done in this term, and nothing is planned."
    sites = as_text(empty)["sites"]
    assert [(s["past"], s["planned"]) for s in sites] == [([], []), ([], [])]


def test_the_words_hold_neither_fees_nor_estimates():
    said = repr(as_text(HISTORY))
    for secret in ("1850", "0.125", "43.6", "41.0 GU to", "46.2", "below promise"):
        assert secret not in said
    assert "44.1" in said


def test_both_notice_dates_stand_with_whose_they_are():
    facts = dict(as_text(HISTORY)["facts"])
    assert facts["Notice"] == (
        "by the contractor up to 1 November 2026, by the customer up to 1 May 2026, both days "
        "still in time"
    )
    assert facts["Term"].endswith("in force")
    assert "Cap" not in facts
    capped = replace(HISTORY, summary=replace(HISTORY.summary, cap_on=LAST))
    assert dict(as_text(capped)["facts"])["Cap"] == "No term may pass 31 December 2026."


def test_a_contract_nobody_entered_has_no_notice_dates():
    facts = dict(as_text(replace(HISTORY, summary=LOOSE))["facts"])
    assert facts["Term"].startswith("none entered; its promises run from 1 January 2025")
    assert not {"Notice", "Then"} & set(facts)


def test_columns_in_which_nothing_stands_are_left_out_of_the_counts():
    assert as_text(HISTORY)["works"]["heads"] == ["Done", "In part", "Planned", "Nothing reported"]
    plain = replace(HISTORY, works=HISTORY.works[1:2])
    assert as_text(plain)["works"] == {
        "heads": ["Done", "Planned"],
        "rows": [{"work": "recoat", "counts": ["1", "1"]}],
    }


def test_zones_of_one_night_and_work_stand_together_with_everybody_who_read_them():
    _, rounds, *_ = as_text(HISTORY)["sites"][0]["past"]
    assert rounds["zones"] == [
        f"Hall B, main lane: 53.2{BLANK}GU, 94{'%'} of reference",
        f"Hall B, entrance: 41.0{BLANK}GU, after cleaning",
    ]
    assert rounds["by"] == "A. Moor, R. Vale"


def test_a_second_work_of_a_night_is_marked_as_of_the_same_night():
    planned = as_text(HISTORY)["sites"][0]["planned"]
    assert [(e["work"], e["again"]) for e in planned] == [("burnish", False), ("recoat", True)]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"share": 1.0}, "Hall B, main lane"),
        ({"share": 0.895}, "Hall B, main lane (90% of it)"),
        ({"share": 0.4}, "Hall B, main lane (40% of it)"),
    ],
)
def test_a_treatment_of_a_part_says_what_part(more, said):
    entry = night_of(lane(ON, RowKind.DONE, Work.RECOAT, **more))
    assert entry["zones"] == [said]


@pytest.mark.parametrize(
    ("measure", "value", "said"),
    [
        ("gloss 20°", 31.26, f"31.3{BLANK}GU (gloss 20°), after burnish"),
        ("DOI", 62.0, "DOI 62.0"),
    ],
)
def test_another_angle_or_measure_names_itself(measure, value, said):
    row = lane(
        ON,
        RowKind.READ,
        Work.READING_ROUND,
        measure=measure,
        value=value,
        state=SurfaceState.AFTER_BURNISH,
    )
    assert night_of(row)["zones"] == [f"Hall B, main lane: {said}"]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"limit": 0.45, "passes": True}, "wet DCOF 0.5, keeps 0.45"),
        ({"limit": 0.55, "passes": False}, "wet DCOF 0.5, below 0.55"),
        ({}, "wet DCOF 0.5"),
    ],
)
def test_a_slip_test_says_whether_it_keeps_its_limit(more, said):
    row = lane(ON, RowKind.READ, Work.SLIP_TEST, measure="wet DCOF", value=0.5, **more)
    assert night_of(row)["zones"] == [f"Hall B, main lane: {said}"]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({}, ""),
        ({"known": DateKnown.ABOUT}, "about"),
        ({"known": DateKnown.ABOUT, "about_days": 1}, "about, ± 1 day"),
    ],
)
def test_a_date_known_about_says_so(more, said):
    assert night_of(lane(ON, RowKind.DONE, Work.RECOAT, **more))["about"] == said


@pytest.mark.parametrize("kind", [RowKind.UNREPORTED, RowKind.NO_ACCESS])
def test_what_came_to_nothing_says_so(kind):
    assert night_of(lane(FIRST, kind, Work.RECOAT))["result"] == kind.value
