"""Entries: whatever is written from outside is written exactly once."""

from datetime import datetime

from sqlalchemy import Connection, insert, select

from floorcare.errors import Clash
from floorcare.store import people_rows


def answer_of(connection: Connection, uuid: str, digest: str) -> str | None:
    """The answer an entry was given, None where it never came in.

    Raises
    ------
    Clash : it came in with another content.
    """
    entry = people_rows.entry
    found = connection.execute(select(entry).where(entry.c.uuid == uuid)).one_or_none()
    if found is None:
        return None
    if found.digest != digest:
        raise Clash(
            f"entry {uuid} came in before with another content, on {found.at:%Y-%m-%d %H:%M} UTC "
            f"by {found.who}; send it anew under a UUID of its own"
        )
    return str(found.answer)


def put_entry(
    connection: Connection, uuid: str, who: str, digest: str, answer: str, now: datetime
) -> str:
    """Keep an entry with its answer, and say the answer it was given the first time.

    Raises
    ------
    Clash : it came in before with another content.
    """
    given = answer_of(connection, uuid, digest)
    if given is not None:
        return given
    connection.execute(
        insert(people_rows.entry).values(uuid=uuid, who=who, digest=digest, answer=answer, at=now)
    )
    return answer
