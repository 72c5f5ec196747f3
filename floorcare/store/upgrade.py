"""Making the database, and bringing an older one up to this program."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

from alembic import command
from alembic.config import Config
from sqlalchemy import URL, Connection, Engine

from floorcare.errors import StoreTrouble
from floorcare.store.engine import (
    APPLICATION_ID,
    for_writing,
    is_file,
    make_engine,
    place_of,
    shown_place,
    told_plainly,
)
from floorcare.store.installations import UID_DOMAIN, Installation, put_installation
from floorcare.store.standing import (
    Standing,
    check_file,
    known_revisions,
    refuse_foreign,
    script_folder,
    standing,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class UpgradeResult:
    """What was done.

    created : the database was made.
    from_revision, to_revision : the schema before (None: no tables) and after.
    copy_path : the copy of the file taken before, None where none was needed.
    """

    created: bool
    from_revision: str | None
    to_revision: str
    copy_path: Path | None


def create_or_upgrade(
    url: str, now: datetime, installation_uuid: str | None = None
) -> UpgradeResult:
    """Make the database if there is none, otherwise bring it up to this program.

    An older SQLite file is copied beside itself first; if the upgrade fails, it stays as it was.

    Parameters
    ----------
    url : "sqlite:///path", a plain path, or a PostgreSQL address.
    now : the instant written as the time of making.
    installation_uuid : the new installation's UUID; a random one if None.

    Raises
    ------
    StoreTrouble : not ours, newer than this program, locked, or not to be written.
    """
    place = place_of(url)
    path = Path(str(place.database)) if is_file(place) else None
    is_new = path is not None and not path.exists()
    if path is not None:
        _check_path(path, place)
    engine = make_engine(place)
    try:
        with told_plainly(place):
            found = _look(engine)
            refuse_foreign(found, place)
            newest = known_revisions()[-1]
            copy = None
            if found.revision != newest:
                if path is not None and not found.empty:
                    copy = _copy(path, found, now)
                uuid = installation_uuid or str(uuid4())
                _migrate(engine, Installation(uuid=uuid, domain=UID_DOMAIN, made_at=now))
    except BaseException:
        engine.dispose()
        if is_new and path is not None:
            _remove_unfinished(path)
        raise
    engine.dispose()
    return UpgradeResult(
        created=found.empty, from_revision=found.revision, to_revision=newest, copy_path=copy
    )


def alembic_config(connection: Connection | None = None) -> Config:
    """Alembic's settings, made here so that no ini file is needed."""
    config = Config()
    config.set_main_option("script_location", str(script_folder()).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def _check_path(path: Path, place: URL) -> None:
    if path.exists():
        check_file(place)
    elif not path.parent.is_dir():
        raise StoreTrouble(
            f"there is no folder {path.parent}; make it first", where=shown_place(place)
        )


def _look(engine: Engine) -> Standing:
    with engine.connect() as connection:
        return standing(connection)


def _migrate(engine: Engine, installation: Installation) -> None:
    with engine.connect() as connection:
        ready = for_writing(connection)
        config = alembic_config(ready)

        def finish(connection: Connection, was_empty: bool) -> None:
            if was_empty:
                put_installation(connection, installation)
            if connection.dialect.name == "sqlite":
                connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")

        config.attributes["finish"] = finish
        command.upgrade(config, "head")


def _copy(path: Path, found: Standing, now: datetime) -> Path:
    """A copy beside the file, taken through SQLite so that it is whole, and read back."""
    stamp = now.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    copy = path.with_name(f"{path.name}.schema-{found.revision}.{stamp}")
    if copy.exists():
        raise StoreTrouble("stands in the way of a copy; move it away", where=str(copy))
    try:
        with (
            closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as old,
            closing(sqlite3.connect(copy)) as new,
        ):
            old.backup(new)
            answer = new.execute("PRAGMA quick_check").fetchone()[0]
        if answer != "ok":
            raise StoreTrouble(f"is damaged ({answer}); nothing was changed", where=str(path))
    except BaseException:
        copy.unlink(missing_ok=True)
        raise
    return copy


def _remove_unfinished(path: Path) -> None:
    for beside in ("", "-wal", "-shm", "-journal"):
        path.with_name(path.name + beside).unlink(missing_ok=True)
