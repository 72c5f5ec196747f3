from dataclasses import FrozenInstanceError

import pytest

from floorcare.findings import Finding, Reason, shown

WHOLE = Finding(
    file="zones.csv",
    row=3,
    column="area_m2",
    problem="it lies outside what is allowed",
    value="-80.5",
    allowed="0.1 to 1,000,000 m²",
    mend="correct the sign",
)


def test_a_finding_names_place_problem_value_what_is_allowed_and_the_mend():
    assert str(WHOLE) == (
        'zones.csv, row 3, column area_m2: it lies outside what is allowed (found "-80.5"). '
        "Allowed: 0.1 to 1,000,000 m². Mend: correct the sign."
    )


@pytest.mark.parametrize(
    ("finding", "said"),
    [
        (Finding(problem="nothing is here"), "nothing is here"),
        (Finding(problem="nothing is here", file="a.csv"), "a.csv: nothing is here"),
        (Finding(problem="no", file="a.csv", row=2), "a.csv, row 2: no"),
        (Finding(problem="no", file="a.csv", column="site"), "a.csv, column site: no"),
        (Finding(problem="no", value="x"), 'no (found "x")'),
        (Finding(problem="It is wrong.", mend="look"), "It is wrong. Mend: look."),
        (Finding(problem="no", allowed="yes"), "no. Allowed: yes."),
    ],
)
def test_what_a_finding_does_not_know_it_does_not_mention(finding, said):
    assert str(finding) == said


def test_a_finding_stops_unless_it_only_asks():
    assert Finding(problem="no").weight == "stops"
    assert Finding(problem="no", weight="asks").weight == "asks"


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("Hall B", '"Hall B"'),
        ("", '""'),
        ("a\nb\x1b[31m", '"a␦b␦[31m"'),
        ("x" * 60, f'"{"x" * 60}"'),
        ("x" * 61, f'"{"x" * 59}… (61 characters)"'),
        ("x" * 100_000, f'"{"x" * 59}… (100,000 characters)"'),
        ("Große Halle 大厅", '"Große Halle 大厅"'),
    ],
)
def test_a_value_is_shown_short_and_harmless(value, said):
    assert shown(value) == said


def test_a_value_may_be_cut_shorter():
    assert shown("Hall B, main lane", longest=8) == '"Hall B,… (17 characters)"'


@pytest.mark.parametrize("record", [WHOLE, Reason(rule="r", inside="i", customer="c")])
def test_findings_and_reasons_are_facts_that_nobody_changes(record):
    field = "problem" if isinstance(record, Finding) else "inside"
    with pytest.raises(FrozenInstanceError):
        setattr(record, field, "else")
    assert record in {record}


def test_a_reason_begins_without_facts_or_rejected_alternatives():
    reason = Reason(rule="ladder", inside="gloss 47 GU", customer="the protector is renewed")
    assert (reason.facts, reason.rejected) == ((), ())
