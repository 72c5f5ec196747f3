"""A fresh database for each test, copied from one that was made once."""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from floorcare.ground.trade.book import Portfolio
from floorcare.store.merge import PutCount
from floorcare.store.open import Store, open_store
from floorcare.store.upgrade import create_or_upgrade
from tests.store.sample import INSTALLATION, NOW


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("made") / "floorcare.db"
    create_or_upgrade(str(path), NOW, INSTALLATION)
    return path


@pytest.fixture
def database(made_once: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(made_once, tmp_path / "floorcare.db"))


@pytest.fixture
def store(database: Path) -> Iterator[Store]:
    opened = open_store(f"sqlite:///{database}", patience_ms=50)
    yield opened
    opened.close()


@pytest.fixture
def shared_folder() -> Iterator[Path]:
    """A folder whose parents everybody may enter."""
    folder = Path(tempfile.mkdtemp(prefix="floorcare-"))
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@contextmanager
def _ordinary_person() -> Iterator[None]:
    # Rights bind everybody but root, so root steps down for the moment.
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def ordinary_person() -> object:
    return _ordinary_person


@pytest.fixture
def put(store: Store) -> Callable[..., dict[str, PutCount]]:
    """Bring a portfolio in and keep it."""

    def bring(
        loaded: Portfolio, *, now: datetime = NOW, who: str = "anna", origin: str = "folder"
    ) -> dict[str, PutCount]:
        with store.work(writes=True) as work:
            counts = work.put_portfolio(loaded, who=who, now=now, origin=origin)
            work.commit()
        return counts

    return bring


@pytest.fixture
def read(store: Store) -> Callable[[str], Any]:
    """What the store answers to one question, by the question's name."""

    def ask(question: str) -> Any:
        with store.work() as work:
            return getattr(work, question)()

    return ask
