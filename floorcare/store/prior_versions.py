"""Pooled values in and out of the store: a version is written once and never changed.

The records hold arrays, which take long to import, so they are fetched where they are needed.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from math import isnan
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row, func, insert, select

from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.store import rows
from floorcare.store.customers import raise_revisions
from floorcare.store.history import HistoryEntry, record
from floorcare.store.merge import Writer
from floorcare.store.prior_rows import prior_class, prior_noise, prior_version

if TYPE_CHECKING:
    from floorcare.ground.wear.pooled import Pooled, PriorVersion

COUNTS = ("zones", "hidden")
FIGURES = (
    "mean_haze",
    "mean_rest",
    "sd_haze",
    "sd_rest",
    "correlation",
    "inside",
    "band_scale",
)
"""The columns of `Pooled`, whole numbers and others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionMade:
    """When a version of the pooled values was made, by whom, and to which day it had learned."""

    number: int
    learned_on: date
    made_at: datetime
    made_by: str


def put_prior_version(
    writer: Writer, surfaces: "Mapping[str, Pooled]", learned_on: date
) -> "PriorVersion":
    """Add pooled values, by surface, as the next version.

    Every branch's plan reads them, so every branch has a new revision.
    """
    from floorcare.ground.wear.pooled import Noise, PriorVersion

    connection = writer.connection
    latest = connection.scalar(select(func.max(prior_version.c.number)))
    made = PriorVersion(
        number=(latest or 0) + 1, learned_on=learned_on, surfaces=dict(sorted(surfaces.items()))
    )
    version = connection.scalar(
        insert(prior_version).returning(prior_version.c.id),
        {
            "number": made.number,
            "learned_on": learned_on,
            "made_at": writer.now,
            "made_by": writer.who,
        },
    )
    for surface, pooled in made.surfaces.items():
        mark = {"prior_version_id": version, "surface": surface}
        connection.execute(insert(prior_class), [{**mark, **row} for row in _class_rows(pooled)])
        noise = {name: float(getattr(pooled.noise, name)) for name in Noise.__slots__}
        connection.execute(insert(prior_noise), {**mark, **noise})
    raise_revisions(writer, connection.scalars(select(rows.branch.c.id)))
    detail = {
        "version": made.number,
        "learned_on": learned_on.isoformat(),
        "zones": {code: int(pooled.zones.sum()) for code, pooled in made.surfaces.items()},
    }
    record(
        connection,
        HistoryEntry(at=writer.now, who=writer.who, what="wear learned", detail=detail),
    )
    return made


def _class_rows(pooled: "Pooled") -> list[dict[str, Any]]:
    """A row a class; a share nobody could take is kept as none."""
    from floorcare.ground.wear.pooled import CLASSES, LEVELS

    made: list[dict[str, Any]] = []
    for c in range(CLASSES):
        row: dict[str, Any] = {"traffic": LEVELS[c // 2].value, "counted": c % 2 == 1}
        row |= {name: int(getattr(pooled, name)[c]) for name in COUNTS}
        row |= {name: float(getattr(pooled, name)[c]) for name in FIGURES}
        made.append({**row, "inside": None if isnan(row["inside"]) else row["inside"]})
    return made


def prior_version_of(connection: Connection) -> "PriorVersion | None":
    """The latest version, None before anything was learned."""
    from floorcare.ground.wear.pooled import PriorVersion

    latest = select(prior_version).order_by(prior_version.c.number.desc()).limit(1)
    row = connection.execute(latest).one_or_none()
    if row is None:
        return None
    classes: defaultdict[str, dict[int, Row[Any]]] = defaultdict(dict)
    of_version = select(prior_class).where(prior_class.c.prior_version_id == row.id)
    for one in connection.execute(of_version):
        classes[one.surface][_class_of_row(one)] = one
    of_version = select(prior_noise).where(prior_noise.c.prior_version_id == row.id)
    noises = {one.surface: one for one in connection.execute(of_version)}
    return PriorVersion(
        number=row.number,
        learned_on=row.learned_on,
        surfaces={code: _pooled(classes[code], noises[code]) for code in sorted(noises)},
    )


def prior_versions_of(connection: Connection) -> tuple[VersionMade, ...]:
    """Every version ever made, oldest first."""
    found = connection.execute(select(prior_version).order_by(prior_version.c.number))
    return tuple(
        VersionMade(
            number=row.number,
            learned_on=row.learned_on,
            made_at=row.made_at,
            made_by=row.made_by,
        )
        for row in found
    )


def _class_of_row(row: Row[Any]) -> int:
    from floorcare.ground.wear.pooled import LEVELS

    return 2 * LEVELS.index(TrafficLevel(row.traffic)) + int(row.counted)


def _pooled(classes: Mapping[int, Row[Any]], noise: Row[Any]) -> "Pooled":
    """One surface's values; each of its classes has a row."""
    import numpy as np

    from floorcare.ground.wear.pooled import CLASSES, Noise, Pooled

    columns: dict[str, Any] = {}
    for names, kind in ((COUNTS, np.int64), (FIGURES, np.float64)):
        for name in names:
            figures = [getattr(classes[c], name) for c in range(CLASSES)]
            columns[name] = np.array([np.nan if x is None else x for x in figures], dtype=kind)
    return Pooled(
        noise=Noise(**{name: getattr(noise, name) for name in Noise.__slots__}), **columns
    )
