from contextlib import suppress
from datetime import UTC, datetime, timedelta

import pytest

from floorcare import compose
from floorcare.errors import NotKnown, StoreTrouble
from floorcare.store import surfaces
from floorcare.store.open import Store
from floorcare.store.upgrade import create_or_upgrade
from tests.store.sample import INSTALLATION, NOW


@pytest.mark.parametrize(
    ("chosen", "environment", "url"),
    [
        ("mine.db", "theirs.db", "mine.db"),
        (None, "theirs.db", "theirs.db"),
        ("", "theirs.db", "theirs.db"),
        (None, None, "floorcare.db"),
        (None, "", "floorcare.db"),
    ],
)
def test_the_database_asked_for_comes_before_the_environment_and_the_usual_name(
    chosen, environment, url, monkeypatch
):
    monkeypatch.delenv("FLOORCARE_DB", raising=False)
    if environment is not None:
        monkeypatch.setenv("FLOORCARE_DB", environment)
    assert compose.database_url(chosen) == url


def test_a_database_stands_where_its_file_does_and_a_server_is_taken_to_be_there(tmp_path):
    path = tmp_path / "floorcare.db"
    assert not compose.database_stands(str(path))
    assert not compose.database_stands(f"sqlite:///{path}")
    path.touch()
    assert compose.database_stands(str(path))
    assert compose.database_stands(f"sqlite:///{path}")
    assert compose.database_stands("postgresql+psycopg://nobody@nowhere/floors")


@pytest.mark.parametrize("trouble", [False, True])
def test_a_store_is_opened_and_let_go_of_again_even_after_trouble(trouble, tmp_path, monkeypatch):
    path = tmp_path / "floorcare.db"
    create_or_upgrade(str(path), NOW, INSTALLATION)
    monkeypatch.setenv("FLOORCARE_DB", str(path))
    closed = []

    def close(store: Store) -> None:
        closed.append(store)

    monkeypatch.setattr(Store, "close", close)
    with suppress(ZeroDivisionError), compose.opened(None) as store:
        with store.work() as work:
            assert work.installation().uuid == INSTALLATION
        assert closed == []
        if trouble:
            raise ZeroDivisionError
    assert closed == [store]
    monkeypatch.undo()
    store.close()


def test_a_database_that_is_missing_is_told_and_not_made(tmp_path):
    with pytest.raises(StoreTrouble), compose.opened(str(tmp_path / "none.db")):
        raise AssertionError("nothing is there to be opened")
    assert list(tmp_path.iterdir()) == []


def test_the_surfaces_are_those_that_are_shipped():
    surfaces = compose.surfaces()
    assert "polished_concrete" in surfaces
    assert all(surface.code == code for code, surface in surfaces.items())


def test_now_is_utc_in_whole_seconds_and_today_is_the_day_here():
    before = datetime.now(UTC)
    now = compose.now()
    assert now.tzinfo is UTC
    assert now.microsecond == 0
    assert before - timedelta(seconds=1) <= now <= datetime.now(UTC)
    here = datetime.now().astimezone().date()
    assert here - timedelta(days=1) <= compose.today() <= here, "midnight may pass between the two"


def test_a_surface_without_a_file_is_told_with_those_there_are():
    with pytest.raises(NotKnown, match=r'"slate", which has no file any more.*polished_concrete'):
        compose.surfaces()["slate"]
    assert compose.surfaces().get("slate") is None


def test_a_surface_file_that_cannot_be_read_is_named_and_the_others_are_there(
    tmp_path, monkeypatch
):
    assert compose.surface_findings() == ()
    whole = (surfaces.SURFACES_FOLDER / "polished_concrete.toml").read_text(encoding="utf-8")
    (tmp_path / "polished_concrete.toml").write_text(whole, encoding="utf-8")
    (tmp_path / "slate.toml").write_text(f"colour = 1\n{whole}", encoding="utf-8")
    monkeypatch.setattr(surfaces, "SURFACES_FOLDER", tmp_path)
    assert list(compose.surfaces()) == ["polished_concrete"]
    (found,) = compose.surface_findings()
    assert (found.file, found.value) == ("slate.toml", "colour")
