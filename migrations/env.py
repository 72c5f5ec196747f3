"""Runs the migrations on the connection it is handed, all in one transaction.

SQLite alters a table by building it anew and dropping the old one. With foreign keys on, that
deletes every child row, and they can only be switched off outside a transaction: so off, migrate,
check that no row lost its parent, commit, on again.
"""

from alembic import context

attributes = context.config.attributes
connection = attributes["connection"]
is_file = connection.dialect.name == "sqlite"


def driver_says(statement: str) -> list[tuple[object, ...]]:
    """The driver's answer to a statement outside any transaction."""
    cursor = connection.connection.cursor()
    try:
        cursor.execute(statement)
        return cursor.fetchall()
    finally:
        cursor.close()


def migrate() -> None:
    context.configure(
        connection=connection,
        target_metadata=attributes.get("metadata"),
        render_as_batch=True,
    )
    was_empty = context.get_context().get_current_revision() is None
    context.run_migrations()
    if is_file:
        orphans = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
        if orphans:
            raise RuntimeError(f"rows lost their parents, nothing was changed: {orphans[:5]}")
    finish = attributes.get("finish")
    if finish is not None:
        finish(connection, was_empty)


if is_file:
    # Many readers beside one writer; kept in the file from here on.
    driver_says("PRAGMA journal_mode = WAL")
    driver_says("PRAGMA foreign_keys = OFF")
try:
    with connection.begin():
        migrate()
finally:
    if is_file:
        driver_says("PRAGMA foreign_keys = ON")
