"""Nights that customers refused or offered, in and out of the store."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Row, insert, select, update

from floorcare.ground.trade.answer import NightAnswer, NightWord
from floorcare.ground.trade.treatment import Work
from floorcare.store import rows, visit_rows
from floorcare.store.dues import Places
from floorcare.store.scope import at_sites


def answers_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[NightAnswer, ...]]:
    """What was said of nights by the site's id, by night, zone and work; one statement."""
    answer, visit, zone = visit_rows.night_answer, visit_rows.visit, rows.zone
    found: defaultdict[int, list[NightAnswer]] = defaultdict(list)
    for row in connection.execute(
        select(answer, visit.c.site_id, zone.c.code.label("zone"))
        .join(visit, answer.c.visit_id == visit.c.id)
        .outerjoin(zone, answer.c.zone_id == zone.c.id)
        .where(at_sites(visit.c.site_id, sites), answer.c.withdrawn_at.is_(None))
    ):
        found[row.site_id].append(answer_from_row(row))
    return {site: tuple(sorted(of, key=_order)) for site, of in found.items()}


def _order(answer: NightAnswer) -> tuple[date, str, str, str, date]:
    return (answer.night, answer.zone, answer.work, answer.word, answer.said_on)


def answer_from_row(row: Row[Any]) -> NightAnswer:
    """The answer of a row that carries its zone's code."""
    return NightAnswer(
        zone=row.zone or "",
        work=Work(row.work),
        night=row.night,
        word=NightWord(row.word),
        said_on=row.said_on,
    )


def put_answers(
    connection: Connection,
    visit_id: int,
    site: str,
    answers: Iterable[NightAnswer],
    places: Places,
    now: datetime,
) -> None:
    """Keep what was said of nights about one visit's work."""
    listed = [
        {
            "visit_id": visit_id,
            "zone_id": places.zone(site, answer.zone),
            "work": answer.work.value,
            "night": answer.night,
            "word": answer.word.value,
            "said_on": answer.said_on,
            "at": now,
            "withdrawn_at": None,
        }
        for answer in answers
    ]
    if listed:
        connection.execute(insert(visit_rows.night_answer), listed)


def reopen_night(
    connection: Connection, site_id: int, night: date, zones: Collection[str], now: datetime
) -> None:
    """Take back what was refused on a night for work on these zones of a site."""
    answer, visit, zone = visit_rows.night_answer, visit_rows.visit, rows.zone
    of_site = select(visit.c.id).where(visit.c.site_id == site_id)
    named = select(zone.c.id).where(zone.c.site_id == site_id, zone.c.code.in_(sorted(zones)))
    chosen: ColumnElement[bool] = answer.c.zone_id.in_(named)
    if "" in zones:
        chosen |= answer.c.zone_id.is_(None)
    connection.execute(
        update(answer)
        .where(
            answer.c.visit_id.in_(of_site),
            answer.c.night == night,
            answer.c.word == NightWord.REFUSED.value,
            answer.c.withdrawn_at.is_(None),
            chosen,
        )
        .values(withdrawn_at=now)
    )
