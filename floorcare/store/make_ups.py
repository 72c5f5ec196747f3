"""What floors are made of and the seasons that grind them, in and out of the store."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.make_up import FloorMakeUp, Season
from floorcare.store import floor_rows
from floorcare.store.merge import Kind, Merged, Writer, merge
from floorcare.store.scope import at_sites, in_zones_at

SEASONS = Kind(
    table=floor_rows.season,
    word="seasons",
    key=("site_id", "name"),
    values=("from_month", "from_day", "to_month", "to_day", "factor"),
)
MAKE_UPS = Kind(
    table=floor_rows.floor_make_up,
    word="make-ups of floors",
    key=("zone_id", "from_on"),
    values=(
        "grit",
        "exposure_class",
        "densifier",
        "protector",
        "joints_m",
        "edges_m",
        "obstruction_share",
        "moisture",
    ),
    least_zero=("joints_m", "edges_m"),
)


def put_seasons(writer: Writer, seasons: Mapping[int, tuple[Season, ...]]) -> Merged:
    """Bring seasons in, by the site's id."""
    incoming = (
        (
            site_id,
            one.name,
            one.from_month,
            one.from_day,
            one.to_month,
            one.to_day,
            one.factor,
        )
        for site_id, of in seasons.items()
        for one in of
    )
    return merge(writer, SEASONS, incoming)


def put_make_ups(writer: Writer, make_ups: Mapping[int, tuple[FloorMakeUp, ...]]) -> Merged:
    """Bring in what floors are made of, by the zone's id."""
    incoming = (
        (
            zone_id,
            one.from_on,
            one.grit,
            one.exposure_class,
            one.densifier,
            one.protector,
            one.joints_m,
            one.edges_m,
            one.obstruction_share,
            one.moisture,
        )
        for zone_id, of in make_ups.items()
        for one in of
    )
    return merge(writer, MAKE_UPS, incoming)


def seasons_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[Season, ...]]:
    """Seasons by their site's id, sorted by name."""
    found: defaultdict[int, list[Season]] = defaultdict(list)
    table = floor_rows.season
    for row in connection.execute(select(table).where(at_sites(table.c.site_id, sites))):
        found[row.site_id].append(season_from_row(row))
    return {site: tuple(sorted(of, key=lambda s: s.name)) for site, of in found.items()}


def season_from_row(row: Row[Any]) -> Season:
    """The season of a row."""
    return Season(
        name=row.name,
        from_month=row.from_month,
        from_day=row.from_day,
        to_month=row.to_month,
        to_day=row.to_day,
        factor=row.factor,
    )


def make_ups_of(
    connection: Connection, sites: Collection[str] | None
) -> dict[int, tuple[FloorMakeUp, ...]]:
    """What floors are made of by the zone's id, sorted by first day."""
    found: defaultdict[int, list[FloorMakeUp]] = defaultdict(list)
    table = floor_rows.floor_make_up
    for row in connection.execute(select(table).where(in_zones_at(table.c.zone_id, sites))):
        found[row.zone_id].append(make_up_from_row(row))
    return {zone: tuple(sorted(of, key=lambda m: m.from_on)) for zone, of in found.items()}


def make_up_from_row(row: Row[Any]) -> FloorMakeUp:
    """What a floor is made of, of a row."""
    return FloorMakeUp(
        from_on=row.from_on,
        grit=row.grit,
        exposure_class=row.exposure_class,
        densifier=row.densifier,
        protector=row.protector,
        joints_m=row.joints_m,
        edges_m=row.edges_m,
        obstruction_share=row.obstruction_share,
        moisture=row.moisture,
    )
