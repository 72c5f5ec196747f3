import pytest

from floorcare import compose
from floorcare.errors import NotKnown
from floorcare.faces.cli import demo as face
from floorcare.faces.cli.demo import SAMPLE_INSTALLATION, SAMPLE_TODAY, build_demo, sample_folder
from tests.faces.cli.folders import make_folder


def test_the_sample_is_found_in_this_checkout():
    assert (sample_folder() / "sites.csv").is_file()
    assert (sample_folder() / "readings.csv").is_file()


def test_the_sample_of_an_installed_copy_is_found_inside_it(tmp_path, monkeypatch):
    package = tmp_path / "floorcare"
    monkeypatch.setattr(face, "__file__", str(package / "faces" / "cli" / "demo.py"))
    with pytest.raises(NotKnown) as missing:
        sample_folder()
    assert "install floorcare again" in missing.value.message
    make_folder(tmp_path / "sample_sites")
    assert sample_folder() == tmp_path / "sample_sites"
    make_folder(package / "_sample")
    assert sample_folder() == package / "_sample"


def test_a_demo_is_built_from_the_samples_own_day_under_a_fixed_installation(tmp_path, monkeypatch):
    care = make_folder(tmp_path / "care")
    monkeypatch.setattr(face, "sample_folder", lambda: care)
    told = []

    def tell(what):
        return lambda done, total: told.append((what, done, total))

    folder = tmp_path / "demo"
    folder.mkdir()
    first = build_demo(folder, tell=tell)
    assert first.changed_anything
    assert first.database == folder / "floorcare.db"
    assert first.plan.today == SAMPLE_TODAY
    assert {what for what, _, _ in told} == {"reading", "planning branches"}
    assert told[-1] == ("planning branches", 2, 2)  # its sites
    assert all(path.exists() for _, path in first.files)
    assert [what for what, _ in first.files] == [
        *("database", "calendars", "week by crew"),
        *(["visit lists"] * 3),
        *(["condition table"] * 3),
    ]
    with compose.opened(str(first.database)) as store, store.work() as work:
        assert work.installation().uuid == SAMPLE_INSTALLATION
        names = [visit.uuid for visit in work.visits()]
        assert {entry.who for entry in work.history()} == {"demo"}

    assert not build_demo(folder, tell=tell).changed_anything
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    other = build_demo(elsewhere, tell=tell)
    with compose.opened(str(other.database)) as store, store.work() as work:
        assert [visit.uuid for visit in work.visits()] == names, "two demos name visits alike"
