"""A small portfolio loaded once and planned once; each test works on a copy."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from floorcare.ground.trade.book import Portfolio
from floorcare.ground.trade.routine import Performer, Proof, Routine
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.services.load_care import load_care
from floorcare.services.plan_year import plan_year
from floorcare.store.open import Store, open_store
from floorcare.store.surfaces import load_surfaces
from floorcare.store.upgrade import create_or_upgrade
from tests.store.sample import INSTALLATION, NOW, portfolio, site_book, with_zone

TODAY = NOW.date()
"""A Monday."""


def rhythm(work: Work, rule: str, starts_on: date = date(2026, 1, 5)) -> Routine:
    """Our own rhythm, done in visits of its own."""
    return Routine(
        work=work,
        rule=rule,
        starts_on=starts_on,
        performer=Performer.US,
        proof=Proof.CONFIRMED,
    )


def care() -> Portfolio:
    """NORTH is read and has a rhythm of reading rounds; SOUTH is recoated by our own rhythm."""
    north = site_book("NORTH", "EAST")
    rounds = rhythm(Work.READING_ROUND, "FREQ=WEEKLY;INTERVAL=4")
    north = with_zone(north, routines=(*north.zones[0].routines, rounds))
    south = with_zone(
        site_book("SOUTH", "WEST"),
        readings=(),
        promises=(),
        routines=(rhythm(Work.RECOAT, "FREQ=WEEKLY;INTERVAL=10"),),
    )
    south = replace(south, site=replace(south.site, time_zone="America/Chicago", notice_days=14))
    return portfolio(north, south)


@pytest.fixture(scope="session")
def surfaces() -> dict[str, Surface]:
    return load_surfaces()


@pytest.fixture(scope="session")
def loaded_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("loaded") / "floorcare.db"
    create_or_upgrade(str(path), NOW, INSTALLATION)
    store = open_store(str(path))
    load_care(store, care(), who="office", now=NOW)
    store.close()
    return path


@pytest.fixture(scope="session")
def planned_once(
    loaded_once: Path, surfaces: dict[str, Surface], tmp_path_factory: pytest.TempPathFactory
) -> Path:
    path = Path(shutil.copy(loaded_once, tmp_path_factory.mktemp("planned") / "floorcare.db"))
    store = open_store(str(path))
    plan_year(store, surfaces, today=TODAY, now=NOW, who="planner")
    store.close()
    return path


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Callable[[Path], Store]]:
    """Opens a copy of a database that was made once."""
    stores = []

    def open_copy(made: Path) -> Store:
        copy = shutil.copy(made, tmp_path / f"copy{len(stores)}.db")
        stores.append(open_store(str(copy), patience_ms=50))
        return stores[-1]

    yield open_copy
    for store in stores:
        store.close()


@pytest.fixture
def loaded(opened: Callable[[Path], Store], loaded_once: Path) -> Store:
    return opened(loaded_once)


@pytest.fixture
def planned(opened: Callable[[Path], Store], planned_once: Path) -> Store:
    return opened(planned_once)
