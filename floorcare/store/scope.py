"""Which sites a question is about, as a condition that adds no statement."""

from collections.abc import Collection
from typing import Any

from sqlalchemy import Column, ColumnElement, select, true

from floorcare.store import rows


def at_sites(site_id: Column[Any], sites: Collection[str] | None) -> ColumnElement[bool]:
    """The row's site is one of these codes; None for every site."""
    if sites is None:
        return true()
    named = select(rows.site.c.id).where(rows.site.c.code.in_(sorted(sites)))
    return site_id.in_(named)


def in_zones_at(zone_id: Column[Any], sites: Collection[str] | None) -> ColumnElement[bool]:
    """The row's zone lies at one of these sites; None for every site."""
    if sites is None:
        return true()
    return zone_id.in_(select(rows.zone.c.id).where(at_sites(rows.zone.c.site_id, sites)))
