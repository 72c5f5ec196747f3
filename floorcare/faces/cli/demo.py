"""The demo: the invented sample contractor loaded, planned and written out in one folder."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

from floorcare import compose
from floorcare.errors import NotKnown
from floorcare.faces.cli.contract_files import write_contract_history
from floorcare.faces.cli.files import ready_folder
from floorcare.faces.cli.week_files import write_weeks
from floorcare.faces.cli.writing import (
    write_calendars,
    write_condition_tables,
    write_visit_lists,
    write_zone_charts,
)
from floorcare.faces.intake.care import read_care
from floorcare.ground.trade.surface import Surface
from floorcare.ground.worktime.window import week_of
from floorcare.services.fit_week import fit_week
from floorcare.services.list_visits import list_week
from floorcare.services.load_care import Loaded, load_care
from floorcare.services.plan_year import YearAccount, plan_year
from floorcare.services.publish_calendars import publish_calendars
from floorcare.services.show_contracts import show_contract
from floorcare.services.show_floors import show_floors
from floorcare.services.week_ground import WeekAsked
from floorcare.store.open import Store
from floorcare.store.surfaces import load_cautions
from floorcare.store.upgrade import create_or_upgrade

SAMPLE_TODAY = date(2026, 11, 23)
"""The day the sample's records end; the demo plans from it, whatever day it is run."""
SAMPLE_INSTALLATION = "5a3c1c0e-7d0b-4f0e-9a52-0d6f7c2b9e11"
"""Fixed, so that two demos name their visits alike."""

SAMPLE_CONTRACT = "C-LIBRARY"
"""The contract whose history the demo writes: it is near its notice date."""

Progress = Callable[[str], Callable[[int, int], None]]


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoAccount:
    """What the demo made: `files` are (what, where) pairs."""

    database: Path
    loaded: Loaded
    plan: YearAccount
    files: tuple[tuple[str, Path], ...]

    @property
    def changed_anything(self) -> bool:
        """False where the demo had been made in this folder before."""
        return self.loaded.changed_anything or self.plan.written


def sample_folder() -> Path:
    """The sample as it is shipped with an installed copy, or as it lies in a checkout.

    Raises
    ------
    NotKnown : neither is there.
    """
    package = Path(__file__).resolve().parents[2]
    for folder in (package / "_sample", package.parent / "sample_sites"):
        if (folder / "sites.csv").is_file():
            return folder
    raise NotKnown("The sample is missing from this installation; install floorcare again.")


def build_demo(folder: Path, *, tell: Progress) -> DemoAccount:
    """Make the demo in a folder: database, calendars, next week's lists, condition table.

    Parameters
    ----------
    folder : exists; a database of an earlier demo in it is brought up to date, not replaced.
    tell : gives a teller of (done, total) for a piece of work.
    """
    database = folder / "floorcare.db"
    now = datetime.combine(SAMPLE_TODAY, time(14, 0), UTC)
    create_or_upgrade(str(database), now, installation_uuid=SAMPLE_INSTALLATION)
    surfaces = compose.surfaces()
    taken = read_care(
        sample_folder(),
        **compose.known_codes(surfaces)._asdict(),
        today=SAMPLE_TODAY,
        tell=tell("reading"),
    )
    with compose.opened(str(database)) as store:
        loaded = load_care(store, taken.portfolio, who="demo", now=now)
        plan = plan_year(
            store,
            surfaces,
            today=SAMPLE_TODAY,
            now=now,
            who="demo",
            tell=tell("planning branches"),
        )
        files = _write_files(store, surfaces, folder, now)
        if any(contract.code == SAMPLE_CONTRACT for contract in taken.portfolio.contracts):
            history = show_contract(store, surfaces, code=SAMPLE_CONTRACT, today=SAMPLE_TODAY)
            paths = write_contract_history(history, ready_folder(folder / "contracts"))
            files = (*files, *(("contract history", path) for path in paths))
    return DemoAccount(
        database=database,
        loaded=loaded,
        plan=plan,
        files=(("database", database), *files),
    )


def _write_files(
    store: Store, surfaces: Mapping[str, Surface], folder: Path, now: datetime
) -> tuple[tuple[str, Path], ...]:
    """Calendars, next week by branch and by crew, and every zone's condition."""
    starts_on = week_of(SAMPLE_TODAY) + timedelta(weeks=1)
    cautions = load_cautions()
    calendars = ready_folder(folder / "calendars")
    write_calendars(
        publish_calendars(store, surfaces), calendars, today=SAMPLE_TODAY, proposed=True
    )
    weeks = list_week(store, surfaces, cautions, starts_on=starts_on)
    lists = write_visit_lists(weeks, ready_folder(folder / "lists"))
    place = ready_folder(folder / "floors")
    tables = show_floors(store, surfaces, today=SAMPLE_TODAY, charts=True)
    floors = write_condition_tables(write_zone_charts(tables, place), place)
    crews = ready_folder(folder / "crews")
    write_weeks(fit_week(store, surfaces, cautions, _next_week(starts_on, now)), crews)
    return (
        ("calendars", calendars),
        ("week by crew", crews),
        *(("visit lists", path) for path in lists),
        *(("condition table", path) for path in floors),
    )


def _next_week(starts_on: date, now: datetime) -> WeekAsked:
    """The sample's next week, shown and not kept: the reader keeps it with their first command."""
    return WeekAsked(starts_on=starts_on, today=SAMPLE_TODAY, who="demo", now=now)
