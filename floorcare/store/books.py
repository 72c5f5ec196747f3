"""Site books out of the store, whole, in a fixed number of statements."""

from collections.abc import Collection

from sqlalchemy import Connection

from floorcare.ground.trade.book import SiteBook, ZoneBook
from floorcare.store.answers import answers_of
from floorcare.store.make_ups import make_ups_of, seasons_of
from floorcare.store.promises import promises_of
from floorcare.store.readings import readings_of
from floorcare.store.requirements import requirements_of
from floorcare.store.routines import routines_of
from floorcare.store.sites import areas_of, sites_of
from floorcare.store.traffic import traffic_of
from floorcare.store.treatments import treatments_of
from floorcare.store.zones import stations_of, zones_of


def books_of(
    connection: Connection, sites: Collection[str] | None, *, records: bool = True
) -> tuple[SiteBook, ...]:
    """The books of these sites, or of all, sorted by code; codes nobody knows are left out.

    Parameters
    ----------
    records : with readings, past treatments and traffic; there are many of them.
    """
    found = sites_of(connection, sites)
    areas = areas_of(connection, sites)
    requirements = requirements_of(connection, sites)
    seasons = seasons_of(connection, sites)
    zones = zones_of(connection, sites)
    stations = stations_of(connection, sites)
    recorded = sites if records else ()
    readings = readings_of(connection, recorded)
    done = treatments_of(connection, recorded)
    traffic = traffic_of(connection, recorded)
    routines = routines_of(connection, sites)
    promises = promises_of(connection, sites)
    make_ups = make_ups_of(connection, sites)
    answers = answers_of(connection, sites)
    return tuple(
        SiteBook(
            site=site,
            areas=areas.get(site_id, ()),
            zones=tuple(
                ZoneBook(
                    zone=zone,
                    stations=stations.get(zone_id, ()),
                    readings=readings.get(zone_id, ()),
                    done=done.get(zone_id, ()),
                    traffic=traffic.get(zone_id, ()),
                    routines=routines.get(zone_id, ()),
                    promises=promises.get(zone_id, ()),
                    make_ups=make_ups.get(zone_id, ()),
                )
                for zone_id, zone in zones.get(site_id, ())
            ),
            requirements=requirements.get(site_id, ()),
            seasons=seasons.get(site_id, ()),
            answers=answers.get(site_id, ()),
        )
        for site_id, site in found.items()
    )
