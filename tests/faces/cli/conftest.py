"""What takes long is made once: the demo, and the two small sites planned."""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.faces.cli.folders import TODAY_TEXT, make_folder
from tests.faces.cli.terminal import Answer, floorcare


@dataclass(frozen=True)
class Demo:
    """A demo as it was left, and what it said."""

    folder: Path
    answer: Answer

    @property
    def database(self) -> Path:
        return self.folder / "floorcare.db"


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    folder = tmp_path_factory.mktemp("sample") / "demo"
    return Demo(folder, floorcare("demo", folder))


@pytest.fixture(scope="session")
def planned_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The two sites, loaded and planned."""
    folder = tmp_path_factory.mktemp("planned")
    database = folder / "floorcare.db"
    make_folder(folder / "care")
    floorcare("load", folder / "care", "--today", TODAY_TEXT, "--db", database)
    assert floorcare("plan", "--today", TODAY_TEXT, "--db", database).code == 0
    return database


@pytest.fixture
def database(planned_once: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the planned database, which the commands take without being told."""
    copy = Path(shutil.copy(planned_once, tmp_path / "floorcare.db"))
    monkeypatch.setenv("FLOORCARE_DB", str(copy))
    return copy


@pytest.fixture
def new_database(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The path of a database that nobody has made yet."""
    path = tmp_path / "new.db"
    monkeypatch.setenv("FLOORCARE_DB", str(path))
    return path


@pytest.fixture
def sealed_folder() -> Iterator[Path]:
    """A folder that everybody may enter and nobody but its owner may write to."""
    outer = Path(tempfile.mkdtemp(prefix="floorcare-"))
    outer.chmod(0o755)
    folder = outer / "sealed"
    folder.mkdir()
    folder.chmod(0o555)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(outer)


@contextmanager
def _ordinary_person() -> Iterator[None]:
    # Rights bind everybody but root, so root steps down for the moment.
    if os.geteuid() != 0:
        yield
        return
    os.setresuid(65534, 65534, 0)
    try:
        yield
    finally:
        os.setresuid(0, 0, 0)


@pytest.fixture
def ordinary_person() -> Callable[[], AbstractContextManager[None]]:
    return _ordinary_person
