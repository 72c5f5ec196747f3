"""What sites ask for before work, in and out of the store."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.people import RequirementKind, SiteRequirement
from floorcare.store import people_rows
from floorcare.store.merge import Kind, Merged, Writer, merge
from floorcare.store.scope import at_sites

REQUIREMENTS = Kind(
    table=people_rows.site_requirement,
    word="requirements",
    key=("site_id", "kind", "name"),
    values=("each_worker", "expires_on"),
)


def put_requirements(
    writer: Writer, requirements: Mapping[int, tuple[SiteRequirement, ...]]
) -> Merged:
    """Bring in what sites ask for, by the site's id."""
    incoming = (
        (site_id, one.kind.value, one.name, one.each_worker, one.expires_on)
        for site_id, of in requirements.items()
        for one in of
    )
    return merge(writer, REQUIREMENTS, incoming)


def requirements_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[SiteRequirement, ...]]:
    """What sites ask for by the site's id, sorted by kind and name."""
    found: defaultdict[int, list[SiteRequirement]] = defaultdict(list)
    table = people_rows.site_requirement
    for row in connection.execute(select(table).where(at_sites(table.c.site_id, sites))):
        found[row.site_id].append(requirement_from_row(row))
    return {site: tuple(sorted(of, key=requirement_order)) for site, of in found.items()}


def requirement_from_row(row: Row[Any]) -> SiteRequirement:
    """The requirement of a row."""
    return SiteRequirement(
        kind=RequirementKind(row.kind),
        name=row.name,
        each_worker=row.each_worker,
        expires_on=row.expires_on,
    )


def requirement_order(requirement: SiteRequirement) -> tuple[str, str]:
    """The order in which a site's requirements stand; no two share it."""
    return (requirement.kind, requirement.name)
