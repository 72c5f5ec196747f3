from pathlib import Path

import pytest

from floorcare.errors import NotUnderstood
from floorcare.faces.cli.files import file_stem, put, ready_folder


def test_a_missing_folder_is_made_with_its_parents(tmp_path):
    folder = tmp_path / "a" / "b"
    assert ready_folder(folder) == folder
    assert folder.is_dir()
    assert ready_folder(folder) == folder, "and a second time it is simply there"


def test_a_folder_below_a_file_is_refused(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(NotUnderstood) as refused:
        ready_folder(tmp_path / "file" / "below")
    assert refused.value.where == str(tmp_path / "file" / "below")
    assert "Choose one you may write to" in refused.value.message


def test_a_file_in_the_folders_place_is_refused(tmp_path):
    (tmp_path / "file").write_text("kept")
    with pytest.raises(NotUnderstood):
        ready_folder(tmp_path / "file")
    assert (tmp_path / "file").read_text() == "kept"


def test_a_sealed_folder_is_refused(sealed_folder, ordinary_person):
    with ordinary_person(), pytest.raises(NotUnderstood) as refused:
        ready_folder(sealed_folder)
    assert refused.value.message == "This folder may not be written to. Choose another."


def test_a_file_is_put_whole_and_replaces_what_stood_there(tmp_path):
    path = tmp_path / "list.csv"
    path.write_bytes(b"old and longer")
    assert put(path, b"new") == path
    assert path.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("step", ["write_bytes", "replace"])
def test_where_writing_fails_what_stood_there_still_stands_and_no_part_is_left(
    step, tmp_path, monkeypatch
):
    path = tmp_path / "list.csv"
    path.write_bytes(b"old")

    def full(self: Path, *_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, step, full)
    with pytest.raises(NotUnderstood) as refused:
        put(path, b"new")
    monkeypatch.undo()
    assert refused.value.where == str(path)
    assert "No space left on device" in refused.value.message
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_where_a_person_stops_it_no_part_is_left(tmp_path, monkeypatch):
    def stop(self: Path, *_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", stop)
    with pytest.raises(KeyboardInterrupt):
        put(tmp_path / "list.csv", b"new")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("parts", "stem"),
    [
        (("visits", "North yard", "2026-03-02"), "visits-North-yard-2026-03-02"),
        (("../../etc/passwd",), "etc-passwd"),
        (("Süd", "A:B\\C"), "Süd-A-B-C"),
        (("", "X"), "X"),
    ],
)
def test_a_name_holds_nothing_a_file_system_minds(parts, stem):
    assert file_stem(*parts) == stem
