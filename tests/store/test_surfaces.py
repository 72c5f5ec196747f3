import itertools
import tomllib
from pathlib import Path
from typing import Any

import pytest

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.store.surfaces import (
    CAUTIONS_FILE,
    SURFACES_FOLDER,
    load_cautions,
    load_surfaces,
    readable_surfaces,
    surface_from_text,
)

FILES = sorted(SURFACES_FOLDER.glob("*.toml"))
TEXT = (SURFACES_FOLDER / "polished_concrete.toml").read_text("utf-8")
CONCRETE = load_surfaces()["polished_concrete"]


def findings(text: str) -> dict[str, str]:
    surface, found = surface_from_text(text, "polished_concrete")
    assert surface is None
    return {f.column: f.problem for f in found}


def changed(old: str, new: str) -> str:
    assert old in TEXT
    return TEXT.replace(old, new, 1)


def bare_figures(tree: Any, place: str) -> list[str]:
    """Places of figures that do not stand beside a source."""
    if isinstance(tree, dict):
        if "value" in tree and isinstance(tree.get("source"), str) and tree["source"].strip():
            return []
        return [p for key, part in tree.items() for p in bare_figures(part, f"{place}.{key}")]
    if isinstance(tree, list):
        return [p for n, part in enumerate(tree) for p in bare_figures(part, f"{place}[{n}]")]
    return [place] if isinstance(tree, (int, float)) and not isinstance(tree, bool) else []


@pytest.mark.parametrize("path", [*FILES, CAUTIONS_FILE], ids=lambda path: path.stem)
def test_every_figure_of_every_file_stands_beside_its_source(path: Path) -> None:
    assert bare_figures(tomllib.loads(path.read_text("utf-8")), path.stem) == []


def test_the_search_for_bare_figures_finds_them() -> None:
    assert bare_figures({"a": [{"b": 3}], "c": {"value": 3, "source": ""}}, "x") == [
        "x.a[0].b",
        "x.c.value",
    ]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_surface_that_comes_with_us_is_read_without_a_finding(path: Path) -> None:
    surface, found = surface_from_text(path.read_text("utf-8"), path.stem)
    assert found == ()
    assert surface is not None
    assert surface.code == path.stem


def test_polished_concrete_knows_every_treatment_and_climbs_the_trades_ladder() -> None:
    assert set(CONCRETE.methods) == set(TREATMENTS)
    assert CONCRETE.ladder == (
        Work.CLEAN,
        Work.BURNISH,
        Work.FINE_BURNISH,
        Work.RECOAT,
        Work.REPOLISH,
        Work.FULL_RESTORATION,
    )


def test_the_wear_ladder_is_what_has_a_hold() -> None:
    holds = {work: rung.worthwhile_hold_days for work, rung in CONCRETE.methods.items()}
    assert {work: days for work, days in holds.items() if days} == {
        Work.BURNISH: 3,
        Work.FINE_BURNISH: 14,
        Work.RECOAT: 45,
        Work.REPOLISH: 365,
    }


def test_nothing_that_polishes_is_allowed_on_concrete_younger_than_28_days() -> None:
    ages = {work: rung.min_age_days for work, rung in CONCRETE.methods.items()}
    for work in (Work.BURNISH, Work.FINE_BURNISH, Work.REPOLISH, Work.FULL_RESTORATION):
        assert ages[work] == 28
    assert (ages[Work.CLEAN], ages[Work.DEEP_SCRUB]) == (0, 0)


def test_every_burnish_waits_a_day_for_a_densifier_and_no_method_burnishes_over_its_own() -> None:
    for rung in CONCRETE.methods.values():
        burnishes = any("burnisher" in step.machine for step in rung.steps)
        densifies = any(step.product == "densifier" for step in rung.steps)
        assert not (burnishes and densifies)
        if burnishes:
            assert rung.after_densify_hours == 24


def test_the_least_treatment_that_restores_slip_is_no_gloss_treatment() -> None:
    restoring = {work for work, rung in CONCRETE.methods.items() if rung.restores_slip}
    assert restoring == {Work.DEEP_SCRUB, Work.STRIP}


def test_every_grinding_step_is_followed_by_a_vacuum() -> None:
    for work in (Work.REPOLISH, Work.FULL_RESTORATION):
        steps = CONCRETE.methods[work].steps
        for step, following in itertools.pairwise(steps):
            if step.machine == "planetary_polisher" and following.machine != "edge_polisher":
                assert following.machine == "hepa_vacuum"


def test_an_unknown_key_is_found_wherever_it_stands() -> None:
    for old, new, place in [
        ("ladder =", "rungs = 3\nladder =", "rungs"),
        ("haze_rate = {", 'half_life = "x"\nhaze_rate = {', "law.half_life"),
        ('name = "densifier"', 'name = "densifier"\ncolour = "x"', "materials.densifier.colour"),
        (
            "haze_kept = {",
            'gloss_kept = "x"\nhaze_kept = {',
            "treatments.burnish.effect.gloss_kept",
        ),
    ]:
        assert findings(changed(old, new)) == {place: "this key means nothing here"}


def test_a_missing_figure_and_a_missing_table_are_found() -> None:
    line = next(line for line in TEXT.splitlines() if line.startswith("escape_share"))
    assert findings(changed(line, "")) == {"escape_share": "a figure is missing here"}
    assert "a table is missing here" in findings(changed("[law]", "[low]"))["law"]


def test_a_figure_without_its_source_is_found() -> None:
    assert findings(changed('"Assumption: zones with a counter"', '""')) == {
        "law.rate_sd_counted": "a figure without its source"
    }


def test_a_ladder_naming_a_treatment_without_a_method_is_found() -> None:
    assert findings(changed('"fine burnish", "recoat"', '"fine burnish", "varnish"')) == {
        "ladder": "not known in this file"
    }
    assert findings(changed('"fine burnish", "recoat"', '"burnish", "recoat"')) == {
        "ladder": "a treatment stands twice on the ladder"
    }


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ('machine = "scrubber"', 'machine = "scrubbr"', "steps.scrub.machine"),
        ('tool = "dust_mop"', 'tool = "broom"', "steps.dust_mop.tool"),
        ('product = "neutral_cleaner"', 'product = "soap"', "steps.scrub.product"),
    ],
)
def test_a_step_naming_what_the_file_does_not_list_is_found(old: str, new: str, place: str) -> None:
    assert place in findings(changed(old, new))


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("ph = { value = 7.0,", "ph = { value = 6.9,", "materials.neutral_cleaner.ph"),
        ('name = "blue pad"', 'name = "17-in brown pad"', "tools.blue_pad"),
        ('name = "blue pad"', 'name = "black stripping pad"', "tools.blue_pad"),
        ("[tools.white_pad]", '[tools.cylinder_brush]\nname = "roller"\n[tools.white_pad]',
         "tools.cylinder_brush"),
        ("scrubber, disc pads", "cylinder-brush scrubber", "machines.scrubber"),
    ],
)  # fmt: skip
def test_what_a_prohibition_forbids_is_found_at_its_place(old: str, new: str, place: str) -> None:
    found = findings(changed(old, new))
    assert list(found) == [place]
    assert found[place].startswith("forbidden on this surface")


def test_a_product_whose_ph_is_not_named_is_asked_about_and_stops_nothing() -> None:
    line = next(line for line in TEXT.splitlines() if line.startswith("ph = { value = 11.0"))
    surface, found = surface_from_text(changed(line, ""), "polished_concrete")
    assert surface is not None
    assert [(f.column, f.weight) for f in found] == [("materials.densifier.ph", "asks")]


def test_a_treatment_that_hides_what_its_machines_need_is_found() -> None:
    text = changed('needs = ["loud", "wet", "dust"]', 'needs = ["wet"]')
    surface, found = surface_from_text(text, "polished_concrete")
    assert surface is None
    assert [(f.column, f.value) for f in found] == [("treatments.re-polish.needs", "dust, loud")]


def test_every_problem_of_a_file_is_found_at_once() -> None:
    text = TEXT.replace("ph = { value = 7.0,", "ph = { value = 2.0,").replace(
        'machine = "scrubber"', 'machine = "scrubbr"'
    )
    places = list(findings(text))
    assert "materials.neutral_cleaner.ph" in places
    assert sum(place.endswith(".machine") for place in places) > 3


@pytest.mark.parametrize("text", ["", "ladder = 3", "law = 5\nsteps = []", "[[treatments]]", "= ="])
def test_text_that_is_no_surface_is_findings_and_never_an_exception(text: str) -> None:
    surface, found = surface_from_text(text, "odd")
    assert surface is None
    assert found


def test_a_file_name_that_is_no_code_is_found() -> None:
    surface, found = surface_from_text(TEXT, "polished concrete")
    assert surface is None
    assert found[0].value == "polished concrete"


def test_a_contractors_own_folder_is_read_and_every_bad_file_of_it_reported(tmp_path: Path) -> None:
    (tmp_path / "hall_floor.toml").write_text(TEXT, "utf-8")
    assert list(load_surfaces(tmp_path)) == ["hall_floor"]
    (tmp_path / "a.toml").write_text("x = 1", "utf-8")
    (tmp_path / "b.toml").write_text("y = 1", "utf-8")
    with pytest.raises(NotUnderstood) as caught:
        load_surfaces(tmp_path)
    assert {f.file for f in caught.value.findings} == {"a.toml", "b.toml"}


def test_a_bad_file_is_named_and_the_others_can_be_worked_with(tmp_path: Path) -> None:
    (tmp_path / "hall_floor.toml").write_text(TEXT, "utf-8")
    (tmp_path / "stairs.toml").write_text(f"colour = 1\n{TEXT}", "utf-8")
    (tmp_path / "yard.toml").write_bytes(TEXT.encode("utf-16"))
    surfaces, findings = readable_surfaces(tmp_path)
    assert list(surfaces) == ["hall_floor"]
    stopping = [f for f in findings if f.weight == "stops"]
    assert [(f.file, f.value) for f in stopping] == [("stairs.toml", "colour"), ("yard.toml", "")]
    assert stopping[0].problem == "this key means nothing here"


def test_where_not_one_file_can_be_read_nothing_can_be_worked_with(tmp_path: Path) -> None:
    (tmp_path / "stairs.toml").write_text(f"colour = 1\n{TEXT}", "utf-8")
    with pytest.raises(NotUnderstood):
        readable_surfaces(tmp_path)


def test_an_empty_folder_and_a_file_in_another_encoding_are_told(tmp_path: Path) -> None:
    with pytest.raises(NotKnown):
        load_surfaces(tmp_path)
    (tmp_path / "x.toml").write_bytes(TEXT.encode("utf-16"))
    with pytest.raises(NotUnderstood):
        load_surfaces(tmp_path)


def test_every_caution_a_method_names_has_a_text() -> None:
    texts = load_cautions()
    for rung in CONCRETE.methods.values():
        assert set(rung.cautions) <= set(texts)
    assert all(texts.values())


def test_a_caution_without_its_source_is_told(tmp_path: Path) -> None:
    path = tmp_path / "cautions.toml"
    path.write_text('[noise]\ntext = "Noise."\n', "utf-8")
    with pytest.raises(NotUnderstood) as caught:
        load_cautions(path)
    assert [f.column for f in caught.value.findings] == ["noise.source"]
