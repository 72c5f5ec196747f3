"""Which installation this is: written once when the database is made."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, insert, select

from floorcare.store import rows

UID_DOMAIN = "floorcare.invalid"
"""Ends the permanent ids in feeds; `.invalid` can never be anybody's name (RFC 2606)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Installation:
    """Which installation this is.

    uuid : the root from which the visits' own UUIDs are made.
    domain : what stands behind the @ in the feeds' permanent ids.
    made_at : UTC instant at which the database was made.
    """

    uuid: str
    domain: str
    made_at: datetime


def put_installation(connection: Connection, made: Installation) -> None:
    """Write which installation this is."""
    connection.execute(
        insert(rows.installation).values(
            id=1, uuid=made.uuid, domain=made.domain, made_at=made.made_at
        )
    )


def installation_of(connection: Connection) -> Installation:
    """Which installation this is."""
    row = connection.execute(select(rows.installation)).one()
    return Installation(uuid=row.uuid, domain=row.domain, made_at=row.made_at)
