"""A plan of the one site that changed writes, row for row, what a plan of every site writes."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from floorcare.ground.trade.book import Portfolio, SiteBook, TreatmentDone, withdrawal_of
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.trade.treatment import Work
from floorcare.ground.worktime.shut import ShutDay
from floorcare.services.plan_year import YearAccount, plan_year
from floorcare.store.open import Store, open_store
from floorcare.store.surfaces import load_surfaces
from floorcare.store.upgrade import create_or_upgrade
from tests.scale.plan_care import TODAY, chunks

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
SURFACES = load_surfaces()
WEEKS = 16
few = settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def make(path: Path, seed: int, zones_a_site: int, shift: int, readings: int) -> None:
    """A branch with one crew, and little or much to read in its books."""
    create_or_upgrade(str(path), NOW)
    (portfolio,) = chunks(6, seed, zones_a_site)
    (branch,) = portfolio.branches
    books = tuple(
        replace(
            book,
            zones=tuple(
                replace(zone, readings=(zone.readings[0], *zone.readings[-readings:]))
                for zone in book.zones
            ),
        )
        for book in portfolio.books
    )
    tight = replace(branch, crews=1, crew_size=2, shift_minutes=shift)
    with opened(path) as store, store.work(writes=True) as work:
        work.put_portfolio(
            replace(portfolio, branches=(tight,), books=books), who="office", now=NOW
        )
        work.commit()


@contextmanager
def opened(path: Path) -> Iterator[Store]:
    """A store that is closed again."""
    store = open_store(str(path))
    yield store
    store.close()


def plan(path: Path, *sites: str) -> YearAccount:
    with opened(path) as store:
        return plan_year(
            store, SURFACES, today=TODAY, now=NOW, who="planner", weeks=WEEKS, sites=sites
        )


def rows(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table."""
    connection = sqlite3.connect(path)
    names = connection.execute("select name from sqlite_master where type = 'table'").fetchall()
    found = {name: connection.execute(f'select * from "{name}"').fetchall() for (name,) in names}
    connection.close()
    return found


def reading(book: SiteBook, data: st.DataObject) -> Portfolio:
    zone = data.draw(st.sampled_from(book.zones))
    value = zone.readings[-1].value * data.draw(st.floats(0.75, 1.15))
    read = Reading(
        zone=zone.zone.code,
        station="",
        taken_on=TODAY,
        taken_minute=1,
        measure=Measure.GLOSS,
        value=round(value, 1),
        state=SurfaceState.AFTER_BURNISH,
        geometry_deg=60,
    )
    return Portfolio(books=(replace(book, zones=(replace(zone, readings=(read,)),)),))


def shut(book: SiteBook, data: st.DataObject) -> Portfolio:
    first = TODAY + timedelta(days=data.draw(st.integers(1, 7 * WEEKS)))
    last = first + timedelta(days=data.draw(st.sampled_from([0, 4, 30])))
    days = (*book.site.shut_days, ShutDay(from_on=first, to_on=last, why="fair"))
    return Portfolio(books=(replace(book, site=replace(book.site, shut_days=days), zones=()),))


def outcome(book: SiteBook, data: st.DataObject) -> Portfolio:
    zone = data.draw(st.sampled_from(book.zones))
    done = TreatmentDone(
        work=data.draw(st.sampled_from([Work.RECOAT, Work.REPOLISH, Work.FINE_BURNISH])),
        done_on=TODAY - timedelta(days=data.draw(st.integers(0, 5))),
        share=data.draw(st.sampled_from([1.0, 0.4])),
    )
    return Portfolio(books=(replace(book, zones=(replace(zone, done=(done,)),)),))


def taken_back(book: SiteBook, data: st.DataObject) -> Portfolio:
    zone = data.draw(st.sampled_from(book.zones))
    back = withdrawal_of(book.site.code, zone.zone.code, data.draw(st.sampled_from(zone.readings)))
    return Portfolio(books=(replace(book, zones=()),), withdrawn=(back,))


def promise(book: SiteBook, data: st.DataObject) -> Portfolio:
    zone = data.draw(st.sampled_from(book.zones))
    more = replace(zone.promises[0], loss_share=data.draw(st.sampled_from([0.15, 0.35])))
    return Portfolio(books=(replace(book, zones=(replace(zone, promises=(more,)),)),))


CHANGES = (reading, shut, outcome, taken_back, promise)


@few
@given(
    data=st.data(),
    seed=st.integers(0, 10_000),
    zones_a_site=st.sampled_from([1, 2, 3]),
    shift=st.sampled_from([300, 480]),
    readings=st.sampled_from([1, 4, 23]),
)
def test_planning_only_the_site_that_changed_writes_what_a_whole_plan_writes(
    data: st.DataObject, seed: int, zones_a_site: int, shift: int, readings: int
) -> None:
    with TemporaryDirectory() as folder:
        whole, part = Path(folder, "whole.db"), Path(folder, "part.db")
        make(whole, seed, zones_a_site, shift, readings)
        plan(whole)
        assert not plan(whole).written
        for change in data.draw(st.permutations(CHANGES))[:2]:
            with opened(whole) as store, store.work(writes=True) as work:
                book = data.draw(st.sampled_from(work.books()))
                work.put_portfolio(change(book, data), who="office", now=NOW)
                work.commit()
            shutil.copy(whole, part)
            plan(whole)
            account = plan(part, book.site.code)
            assert book.site.code in account.alone
            assert rows(part) == rows(whole)
