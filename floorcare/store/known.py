"""Codes looked up: whose id it is, or in plain words that nobody knows it."""

from typing import Any

from sqlalchemy import Column, Connection, Table

from floorcare.errors import NotKnown
from floorcare.store import rows
from floorcare.store.merge import ids_by


class Known:
    """The ids behind codes; each table is read once, when it is first asked for."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._read: dict[tuple[Column[Any], ...], dict[Any, int]] = {}

    def ids(self, *columns: Column[Any]) -> dict[Any, int]:
        """Ids by one column's value, or by a tuple of several."""
        if columns not in self._read:
            self._read[columns] = ids_by(self._connection, *columns)
        return self._read[columns]

    def id(self, table: Table, code: str, where: str) -> int:
        """The id of a code.

        Raises
        ------
        NotKnown : neither brought in nor kept; `where` says who names it.
        """
        found = self.ids(table.c.code).get(code)
        if found is None:
            raise NotKnown(f'{table.name} "{code}" is not known', where=where)
        return found

    def maybe(self, table: Table, code: str, where: str) -> int | None:
        """The id of a code, None for no code."""
        return self.id(table, code, where) if code else None

    def zone(self, site: str, zone: str, where: str) -> int:
        """The id of a zone, by the codes of site and zone."""
        site_id = self.id(rows.site, site, where)
        found = self.ids(rows.zone.c.site_id, rows.zone.c.code).get((site_id, zone))
        if found is None:
            raise NotKnown(f'zone "{site}/{zone}" is not known', where=where)
        return found

    def maybe_zone(self, site: str, zone: str, where: str) -> int | None:
        """The id of a zone, None for the site as a whole."""
        return self.zone(site, zone, where) if zone else None
