"""Treatments done, in and out of the store."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.book import DateKnown, TreatmentDone
from floorcare.ground.trade.treatment import Work
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Values, Writer, merge
from floorcare.store.scope import in_zones_at

TREATMENTS_DONE = Kind(
    table=rows.treatment_done,
    word="treatments done",
    key=("zone_id", "work", "done_on"),
    values=("known", "about_days", "share", "performer", "visit_uuid"),
    visit="visit_uuid",
)


def put_treatments(
    writer: Writer, done: Mapping[int, tuple[TreatmentDone, ...]], back: Mapping[Values, str]
) -> Merged:
    """Bring treatments done in, by the zone's id; `back` are the keys of those taken back."""
    incoming = (
        (
            zone_id,
            one.work.value,
            one.done_on,
            one.known.value,
            one.about_days,
            one.share,
            one.performer,
            one.visit,
        )
        for zone_id, of in done.items()
        for one in of
    )
    return merge(writer, TREATMENTS_DONE, incoming, back)


def treatments_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[TreatmentDone, ...]]:
    """Treatments done by their zone's id, sorted by date and work."""
    found: defaultdict[int, list[TreatmentDone]] = defaultdict(list)
    done = rows.treatment_done
    for row in connection.execute(
        select(done).where(in_zones_at(done.c.zone_id, sites), done.c.withdrawn_at.is_(None))
    ):
        found[row.zone_id].append(treatment_from_row(row))
    return {zone: tuple(sorted(of, key=treatment_order)) for zone, of in found.items()}


def treatment_from_row(row: Row[Any]) -> TreatmentDone:
    """The treatment done of a row."""
    return TreatmentDone(
        work=Work(row.work),
        done_on=row.done_on,
        known=DateKnown(row.known),
        about_days=row.about_days,
        share=row.share,
        performer=row.performer,
        visit=row.visit_uuid,
    )


def treatment_order(done: TreatmentDone) -> tuple[date, str]:
    """The order in which a zone's treatments stand; no two share it."""
    return (done.done_on, done.work)
