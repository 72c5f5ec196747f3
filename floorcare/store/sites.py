"""Sites in and out of the store, with their branches, access windows, shut days and areas."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, Table, select, update

from floorcare.errors import NotKnown
from floorcare.ground.trade.site import Area, BranchSpan, Site
from floorcare.ground.worktime.shut import ShutDay
from floorcare.ground.worktime.window import AccessWindow
from floorcare.store import rows
from floorcare.store.merge import Kind, Merged, Timed, Values, Writer, in_parts, merge
from floorcare.store.scope import at_sites
from floorcare.store.texts import numbers_of, numbers_text, words_of, words_text

SITES = Kind(
    table=rows.site,
    word="sites",
    key=("code",),
    values=(
        "customer_id",
        "name",
        "time_zone",
        "address",
        "country",
        "region",
        "latitude",
        "longitude",
        "holidays",
        "notice_days",
        "access_note",
    ),
    parented=False,
    new=(("version", 0),),
)
SITE_BRANCHES = Kind(
    table=rows.site_branch,
    word="branches of sites",
    key=("site_id", "from_on"),
    values=("branch_id", "to_on"),
    timed=Timed(starts="from_on", ends="to_on", competes=1),
)
WINDOWS = Kind(
    table=rows.access_window,
    word="access windows",
    key=("site_id", "weekdays", "starts_minute", "from_on"),
    values=("ends_minute", "permits", "to_on"),
)
SHUT_DAYS = Kind(
    table=rows.shut_day, word="shut days", key=("site_id", "from_on"), values=("to_on", "why")
)
AREAS = Kind(table=rows.area, word="areas", key=("site_id", "code"), values=("name",))


def put_sites(writer: Writer, sites: Iterable[Site], customer_ids: Mapping[str, int]) -> Merged:
    """Bring sites in, without what belongs to them.

    Raises
    ------
    NotKnown : a site's customer is neither brought in nor kept.
    """
    return merge(writer, SITES, (_site_row(site, customer_ids) for site in sites))


def _site_row(site: Site, customer_ids: Mapping[str, int]) -> tuple[Any, ...]:
    if site.customer not in customer_ids:
        raise NotKnown(f'customer "{site.customer}" is not known', where=f"site {site.code}")
    return (
        site.code,
        customer_ids[site.customer],
        site.name,
        site.time_zone,
        site.address,
        site.country,
        site.region,
        site.latitude,
        site.longitude,
        site.holidays,
        site.notice_days,
        site.access_note,
    )


def put_belongings(
    writer: Writer,
    sites: Mapping[int, Site],
    areas: Mapping[int, tuple[Area, ...]],
    branch_ids: Mapping[str, int],
    back: Mapping[Values, str],
) -> tuple[Merged, ...]:
    """Bring in what belongs to sites, each mapping by the site's id.

    `back` are the keys of shut days taken back.

    Raises
    ------
    NotKnown : a branch that serves a site is neither brought in nor kept.
    """
    served = [
        (site_id, span.from_on, _branch_id(span, site, branch_ids), span.to_on)
        for site_id, site in sites.items()
        for span in site.branches
    ]
    windows = [
        (
            site_id,
            numbers_text(window.weekdays),
            window.starts_minute,
            window.from_on,
            window.ends_minute,
            words_text(window.permits),
            window.to_on,
        )
        for site_id, site in sites.items()
        for window in site.windows
    ]
    shut = [
        (site_id, day.from_on, day.to_on, day.why)
        for site_id, site in sites.items()
        for day in site.shut_days
    ]
    named = [(site_id, area.code, area.name) for site_id, of in areas.items() for area in of]
    return (
        merge(writer, SITE_BRANCHES, served),
        merge(writer, WINDOWS, windows),
        merge(writer, SHUT_DAYS, shut, back),
        merge(writer, AREAS, named),
    )


def _branch_id(span: BranchSpan, site: Site, branch_ids: Mapping[str, int]) -> int:
    if span.branch not in branch_ids:
        raise NotKnown(f'branch "{span.branch}" is not known', where=f"site {site.code}")
    return branch_ids[span.branch]


def raise_versions(connection: Connection, table: Table, ids: Collection[int]) -> None:
    """Say that these sites or zones were edited."""
    for part in in_parts(ids):
        connection.execute(
            update(table).where(table.c.id.in_(part)).values(version=table.c.version + 1)
        )


def sites_of(connection: Connection, sites: Collection[str] | None) -> dict[int, Site]:
    """Sites by id, whole, sorted by code, in four statements however many they are."""
    spans: defaultdict[int, list[BranchSpan]] = defaultdict(list)
    branch, site_branch = rows.branch, rows.site_branch
    for row in connection.execute(
        select(site_branch, branch.c.code.label("branch"))
        .join(branch)
        .where(at_sites(site_branch.c.site_id, sites), site_branch.c.withdrawn_at.is_(None))
    ):
        spans[row.site_id].append(branch_span_from_row(row))
    windows: defaultdict[int, list[AccessWindow]] = defaultdict(list)
    window = rows.access_window
    for row in connection.execute(select(window).where(at_sites(window.c.site_id, sites))):
        windows[row.site_id].append(window_from_row(row))
    shut: defaultdict[int, list[ShutDay]] = defaultdict(list)
    day = rows.shut_day
    for row in connection.execute(
        select(day).where(at_sites(day.c.site_id, sites), day.c.withdrawn_at.is_(None))
    ):
        shut[row.site_id].append(ShutDay(from_on=row.from_on, to_on=row.to_on, why=row.why))
    site, customer = rows.site, rows.customer
    found = connection.execute(
        select(site, customer.c.code.label("customer"))
        .join(customer)
        .where(at_sites(site.c.id, sites))
    )
    return {
        row.id: site_from_row(
            row,
            branches=tuple(sorted(spans[row.id], key=lambda s: s.from_on)),
            windows=tuple(sorted(windows[row.id], key=window_order)),
            shut_days=tuple(sorted(shut[row.id], key=lambda d: d.from_on)),
        )
        for row in sorted(found, key=lambda row: row.code)
    }


def site_from_row(
    row: Row[Any],
    *,
    branches: tuple[BranchSpan, ...],
    windows: tuple[AccessWindow, ...],
    shut_days: tuple[ShutDay, ...],
) -> Site:
    """The site of a row and of the rows that belong to it."""
    return Site(
        code=row.code,
        customer=row.customer,
        name=row.name,
        time_zone=row.time_zone,
        branches=branches,
        address=row.address,
        country=row.country,
        region=row.region,
        latitude=row.latitude,
        longitude=row.longitude,
        holidays=row.holidays,
        notice_days=row.notice_days,
        access_note=row.access_note,
        windows=windows,
        shut_days=shut_days,
    )


def branch_span_from_row(row: Row[Any]) -> BranchSpan:
    """Which branch served the site on which days."""
    return BranchSpan(branch=row.branch, from_on=row.from_on, to_on=row.to_on)


def window_from_row(row: Row[Any]) -> AccessWindow:
    """The access window of a row."""
    return AccessWindow(
        weekdays=numbers_of(row.weekdays),
        starts_minute=row.starts_minute,
        ends_minute=row.ends_minute,
        permits=words_of(row.permits),
        from_on=row.from_on,
        to_on=row.to_on,
    )


def window_order(window: AccessWindow) -> tuple[date, str, int]:
    """The order in which a site's windows stand."""
    return (window.from_on or date.min, numbers_text(window.weekdays), window.starts_minute)


def areas_of(connection: Connection, sites: Collection[str] | None) -> dict[int, tuple[Area, ...]]:
    """Areas by their site's id, sorted by code."""
    found: defaultdict[int, list[Area]] = defaultdict(list)
    area = rows.area
    for row in connection.execute(select(area).where(at_sites(area.c.site_id, sites))):
        found[row.site_id].append(Area(code=row.code, name=row.name))
    return {site: tuple(sorted(areas, key=lambda a: a.code)) for site, areas in found.items()}
