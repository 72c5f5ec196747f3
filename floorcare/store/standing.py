"""What stands in a database: nothing, ours (and how old), or another program's tables."""

from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import URL, Connection, inspect, text

from floorcare.errors import StoreTrouble
from floorcare.store.engine import APPLICATION_ID, is_file, shown_place

_MAKE_ONE = "`floorcare load FOLDER` or `floorcare upgrade` makes one"
_SQLITE_START = b"SQLite format 3\x00"


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What was found: whether any table stands, whether it is ours, and our schema's revision."""

    empty: bool
    ours: bool
    revision: str | None


def script_folder() -> Path:
    """The migrations: beside the package when installed, at the top of the repository otherwise."""
    package = Path(__file__).parent.parent
    installed = package / "_migrations"
    return installed if installed.is_dir() else package.parent / "migrations"


def known_revisions() -> tuple[str, ...]:
    """Every schema revision this program knows, oldest first; each file begins with its own."""
    files = (script_folder() / "versions").glob("[0-9]*_*.py")
    return tuple(sorted(file.name.partition("_")[0] for file in files))


def check_file(place: URL) -> None:
    """Refuse a SQLite file that is missing, a folder, or no SQLite file at all.

    Raises
    ------
    StoreTrouble : with the way to mend it.
    """
    path = Path(str(place.database))
    where = shown_place(place)
    if not path.exists():
        raise StoreTrouble(f"no database at {where}; {_MAKE_ONE}")
    if not path.is_file():
        raise StoreTrouble("is a folder, not a database; name a file in it", where=where)
    try:
        with path.open("rb") as file:
            start = file.read(len(_SQLITE_START))
    except OSError as refused:
        raise StoreTrouble("cannot be read; you have no right to read it", where=where) from refused
    if start not in (b"", _SQLITE_START):
        raise StoreTrouble("is not a SQLite database; name another file", where=where)


def standing(connection: Connection) -> Standing:
    """What stands in the database."""
    application = 0
    if connection.dialect.name == "sqlite":
        application = int(connection.exec_driver_sql("PRAGMA application_id").scalar_one())
    tables = set(inspect(connection).get_table_names())
    marked = {"installation", "alembic_version"} <= tables
    ours = marked and application in (0, APPLICATION_ID)
    revision = None
    if ours:
        revision = connection.scalar(text("SELECT max(version_num) FROM alembic_version"))
    return Standing(empty=not tables and not application, ours=ours, revision=revision)


def refuse_foreign(found: Standing, place: URL) -> None:
    """Refuse another program's database, and one that a newer floorcare has written.

    Raises
    ------
    StoreTrouble : with the way to mend it.
    """
    where = shown_place(place)
    if found.empty:
        return
    if not found.ours:
        raise StoreTrouble(
            "is another program's database; nothing was changed, name another file", where=where
        )
    known = known_revisions()
    if found.revision not in known:
        raise StoreTrouble(
            f"was written by a newer floorcare (schema {found.revision}, this program knows up to "
            f"{known[-1]}); install the newer program",
            where=where,
        )


def refuse_unready(found: Standing, place: URL) -> None:
    """Refuse whatever cannot be worked on as it is: foreign, newer, empty or too old.

    Raises
    ------
    StoreTrouble : with the way to mend it.
    """
    refuse_foreign(found, place)
    where = shown_place(place)
    newest = known_revisions()[-1]
    if found.empty:
        if is_file(place):
            raise StoreTrouble(f"is empty; {_MAKE_ONE}", where=where)
        raise StoreTrouble("has no tables yet; run `floorcare upgrade`", where=where)
    if found.revision != newest:
        raise StoreTrouble(
            f"is too old (schema {found.revision}, this program needs {newest}); "
            "run `floorcare upgrade`, which takes a copy first",
            where=where,
        )
