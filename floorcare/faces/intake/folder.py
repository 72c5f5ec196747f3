"""A folder of CSV files, one for each kind of thing, read into a portfolio."""

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from floorcare.errors import NotUnderstood
from floorcare.faces.intake import columns_contracts as contracts
from floorcare.faces.intake import columns_crews as crews
from floorcare.faces.intake import columns_equipment as equipment
from floorcare.faces.intake.agreed import take_promises, take_routines
from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.columns import (
    ACCESS_WINDOWS,
    AREAS,
    BRANCHES,
    CUSTOMERS,
    FOLDER,
    MAKE_UP,
    PROMISES,
    READINGS,
    ROUTINES,
    SEASONS,
    SHUT_DAYS,
    SITES,
    STATIONS,
    TRAFFIC,
    TRAVEL,
    TREATMENTS_DONE,
    ZONES,
)
from floorcare.faces.intake.contracts import (
    take_contracts,
    take_exclusions,
    take_fees,
    take_terms,
)
from floorcare.faces.intake.coordinates import ask_about_coordinates
from floorcare.faces.intake.crews import (
    ask_about_crews,
    take_absences,
    take_crew_members,
    take_crews,
    take_people,
    take_qualifications,
    take_shifts,
    take_workers,
)
from floorcare.faces.intake.customers import take_calls, take_contacts, take_requirements
from floorcare.faces.intake.equipment import (
    take_machine_outages,
    take_machine_places,
    take_machines,
    take_rates,
    take_stock,
    take_supplies,
)
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.grid import Grid, grid_of, heading_key
from floorcare.faces.intake.lines import Line, lines_of
from floorcare.faces.intake.make_up import take_make_ups, take_seasons
from floorcare.faces.intake.meters import take_bridges, take_instruments
from floorcare.faces.intake.notes import Notes, nearest
from floorcare.faces.intake.places import (
    ask_about_access,
    take_access_windows,
    take_areas,
    take_branches,
    take_customers,
    take_shut_days,
    take_sites,
)
from floorcare.faces.intake.portfolio import portfolio_of
from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.records import take_readings, take_treatments
from floorcare.faces.intake.shut_calendars import take_shut_calendars
from floorcare.faces.intake.taken import Taken
from floorcare.faces.intake.textfile import text_of
from floorcare.faces.intake.travel import ask_about_drives, take_travel
from floorcare.faces.intake.zones import (
    fill_areas,
    take_stations,
    take_traffic,
    take_zones,
)
from floorcare.ground.trade.book import Portfolio

Tell = Callable[[int, int], None]
ROWS_PER_TELL = 5_000
NAMES_UNDERSTOOD = (
    f"files understood: {', '.join(kind.name for kind in FOLDER)}; "
    "or a single five-column sheet (CSV or XLSX)"
)

_TAKES: dict[str, Callable[[Iterator[Line], Gathering], None]] = {
    BRANCHES.name: take_branches,
    CUSTOMERS.name: take_customers,
    SITES.name: take_sites,
    ACCESS_WINDOWS.name: take_access_windows,
    SHUT_DAYS.name: take_shut_days,
    TRAVEL.name: take_travel,
    AREAS.name: take_areas,
    ZONES.name: take_zones,
    STATIONS.name: take_stations,
    TRAFFIC.name: take_traffic,
    READINGS.name: take_readings,
    TREATMENTS_DONE.name: take_treatments,
    ROUTINES.name: take_routines,
    PROMISES.name: take_promises,
    SEASONS.name: take_seasons,
    MAKE_UP.name: take_make_ups,
    contracts.REQUIREMENTS.name: take_requirements,
    contracts.CONTACTS.name: take_contacts,
    contracts.CONTRACTS.name: take_contracts,
    contracts.TERMS.name: take_terms,
    contracts.FEES.name: take_fees,
    contracts.EXCLUSIONS.name: take_exclusions,
    contracts.CALLS.name: take_calls,
    crews.WORKERS.name: take_workers,
    crews.QUALIFICATIONS.name: take_qualifications,
    crews.ABSENCES.name: take_absences,
    crews.CREWS.name: take_crews,
    crews.CREW_MEMBERS.name: take_crew_members,
    crews.SHIFTS.name: take_shifts,
    crews.PEOPLE.name: take_people,
    equipment.INSTRUMENTS.name: take_instruments,
    equipment.BRIDGES.name: take_bridges,
    equipment.MACHINES.name: take_machines,
    equipment.MACHINE_PLACES.name: take_machine_places,
    equipment.MACHINE_OUTAGES.name: take_machine_outages,
    equipment.STOCK.name: take_stock,
    equipment.SUPPLIES.name: take_supplies,
    equipment.RATES.name: take_rates,
}


class _Progress:
    """Counts the rows of all files and tells of them now and then."""

    def __init__(self, tell: Tell | None, total: int) -> None:
        self.rows = 0
        self._tell = tell
        self._total = total

    def counted(self, lines: Iterator[Line]) -> Iterator[Line]:
        for line in lines:
            self.rows += 1
            if self._tell and self.rows % ROWS_PER_TELL == 0:
                self._tell(min(self.rows, self._total), self._total)
            yield line

    def end(self) -> None:
        if self._tell:
            self._tell(self._total, self._total)


def known_files(folder: Path) -> dict[str, Path]:
    """The files of a folder that are understood, by the name of their kind."""
    kinds = {kind.name for kind in FOLDER}
    found = {}
    for path in sorted(folder.iterdir()):
        name = path.name.casefold()
        # two spellings of one name: the exact one stands last in the order and wins
        if path.is_file() and name in kinds:
            found[name] = path
    return found


def read_folder(
    path: Path,
    *,
    surfaces: frozenset[str],
    today: date,
    tell: Tell | None = None,
    machine_kinds: frozenset[str] = frozenset(),
    materials: frozenset[str] = frozenset(),
) -> Taken:
    """Read a folder of CSV files, one for each kind of thing.

    Parameters
    ----------
    path : the folder.
    surfaces : codes of the surfaces that are known.
    today : nothing that happened may lie after it.
    tell : called now and then with rows read and rows in all.
    machine_kinds, materials : codes that are known; where none is given, any code is taken.

    Raises
    ------
    NotUnderstood : it is no folder, or none of its files is known by name.
    """
    try:
        files = known_files(path)
        others = [p.name for p in sorted(path.iterdir()) if _is_stray(p, files)]
    except OSError as trouble:
        raise NotUnderstood(
            f"the folder cannot be opened ({trouble.strerror})", where=str(path)
        ) from None
    if not files:
        raise NotUnderstood(
            f"no file here is known by its name; {NAMES_UNDERSTOOD}", where=str(path)
        )
    notes = Notes(kind.name for kind in FOLDER)
    missing = [kind.name for kind in FOLDER if kind.name not in files]
    for name in others:
        mend = nearest(name, missing, "leave it; nothing of it is taken in")
        notes.add("asks", name, 0, "a file of this name is not known and was not read", mend=mend)
    so_far = Gathering(
        notes=notes,
        surfaces=surfaces,
        today=today,
        machine_kinds=machine_kinds,
        materials=materials,
        given=set(files),
    )
    return _read_files(files, so_far, tell, shut_in=path)


def _is_stray(path: Path, files: dict[str, Path]) -> bool:
    return (
        path.suffix.casefold() in (".csv", ".xlsx", ".xls")
        and not path.name.startswith((".", "~"))
        and path not in files.values()
    )


def _read_files(
    files: dict[str, Path], so_far: Gathering, tell: Tell | None, shut_in: Path | None = None
) -> Taken:
    """Read the files of a folder, each given by the name of its kind, and its shut calendars."""
    notes = so_far.notes
    grids = _grids(files, so_far)
    progress = _Progress(tell, sum(grid.lines for grid in grids.values()))
    for kind in FOLDER:
        if kind.name not in grids:
            continue
        grid, before = grids[kind.name], progress.rows
        _TAKES[kind.name](progress.counted(lines_of(kind, grid, notes)), so_far)
        if grid.broken:
            so_far.unread.add(kind.name)
        elif kind.required and progress.rows == before:
            so_far.unread.add(kind.name)
            mend = f"add rows; each is {kind.what}"
            notes.add("stops", kind.name, grid.heading_row, "there is no row", mend=mend)
    if shut_in is not None:
        progress.rows += take_shut_calendars(shut_in, so_far)
    ask_about_access(so_far)
    for site in so_far.sites.values():
        fill_areas(site, so_far)
    if not notes.stops:
        # of rows that do not fit yet the whole cannot be judged
        ask_about_coordinates(so_far)
        ask_about_drives(so_far)
        ask_about_crews(so_far)
    progress.end()
    return Taken(
        portfolio=Portfolio() if notes.stops else portfolio_of(so_far),
        findings=notes.findings(),
        files=tuple(kind.name for kind in FOLDER if kind.name in files),
        rows=progress.rows,
        kind="folder",
    )


def _grids(files: dict[str, Path], so_far: Gathering) -> dict[str, Grid]:
    """Every file's table; what cannot be read, or lacks its codes, is noted and marked unread."""
    grids = {}
    for kind in FOLDER:
        path = files.get(kind.name)
        if path is None:
            if kind.required:
                so_far.unread.add(kind.name)
                mend = f"add it; a row is {kind.what}"
                so_far.notes.add("stops", kind.name, 0, "the file is missing", mend=mend)
            continue
        text = text_of(path, kind.name, so_far.notes)
        grid = None if text is None else grid_of(kind.name, text, kind, so_far.notes)
        if grid is not None:
            grids[kind.name] = grid
        if grid is None or not _has_codes(kind, grid):
            so_far.unread.add(kind.name)
    return grids


def _has_codes(kind: FileKind, grid: Grid) -> bool:
    headings = {heading_key(text) for text in grid.heading}
    return headings >= {folded(name) for name in kind.codes}
