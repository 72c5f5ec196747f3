import pytest

from floorcare.store.surface_sheet import DAYS, SHARE, Number, Sheet

RATE = Number(low=0.1, high=10_000.0, unit="m2/h")


def read(figure: object, rule: Number) -> tuple[float | None, list[str]]:
    sheet = Sheet("test.toml")
    found = sheet.numbers({"x": figure}, {"x": rule}, "place")["x"]
    return found, [f"{f.column}: {f.problem}" for f in sheet.findings]


def test_a_figure_with_its_source_is_read_and_converted() -> None:
    assert read({"value": 0.5, "source": "Assumption"}, SHARE) == (0.5, [])
    found, findings = read({"value": 1000, "unit": "ft2/h", "source": "a page"}, RATE)
    assert (found, findings) == (pytest.approx(92.90304), [])


@pytest.mark.parametrize(
    ("figure", "rule", "problem"),
    [
        (0.5, SHARE, "a figure without its source"),
        ({"value": 0.5}, SHARE, "a figure without its source"),
        ({"value": 0.5, "source": " "}, SHARE, "a figure without its source"),
        ({"value": "0.5", "source": "a page"}, SHARE, "no number"),
        ({"value": True, "source": "a page"}, SHARE, "no number"),
        ({"value": float("nan"), "source": "a page"}, SHARE, "no number"),
        ({"value": 1.5, "source": "a page"}, SHARE, "out of range"),
        ({"value": 2.5, "source": "a page"}, DAYS, "no whole number"),
        ({"value": 5, "source": "a page"}, RATE, "the unit is missing or not known"),
        ({"value": 5, "unit": "acre/h", "source": "a"}, RATE, "the unit is missing or not known"),
    ],
)
def test_a_bad_figure_is_found_at_its_place(figure: object, rule: Number, problem: str) -> None:
    found, findings = read(figure, rule)
    assert findings[0] == f"place.x: {problem}"
    assert found is not None


def test_a_key_of_a_figure_that_means_nothing_is_found() -> None:
    _, findings = read({"value": 0.5, "source": "a page", "vlaue": 3}, SHARE)
    assert findings == ["place.x.vlaue: this key means nothing here"]


def test_a_missing_figure_is_found_unless_it_may_be_left_out() -> None:
    rules = {"a": SHARE, "b": Number(high=1.0, optional=True), "c": Number(high=9, default=2.0)}
    sheet = Sheet("test.toml")
    assert sheet.numbers({}, rules, "") == {"a": 0.0, "b": None, "c": 2.0}
    assert [f.column for f in sheet.findings] == ["a"]


def test_text_that_is_no_toml_is_one_finding_with_the_line() -> None:
    sheet = Sheet("test.toml")
    assert sheet.parsed("a = = 3\n") == {}
    assert "line 1" in sheet.findings[0].problem
