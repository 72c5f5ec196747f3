"""Names of places and meters in an export, turned into codes that are known."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from floorcare.faces.intake.export_mapping import ExportMapping, Setting
from floorcare.faces.intake.notes import nearest
from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.unfit import Unfit, read_once
from floorcare.ground.trade.book import SiteBook
from floorcare.ground.trade.codes import code_problem
from floorcare.ground.trade.equipment import Instrument

LEFT_OUT = ""
"""A place or sensor that the mapping gives this meaning is left out on purpose."""
_ALLOWED = "SITE/ZONE or SITE/ZONE/STATION of zones that are known"
_PATTERN_PART = re.compile(r"\{(site|zone|station)\}")


@dataclass(frozen=True, slots=True)
class Place:
    """A zone that is known, and the station in it; station "" is the zone as a whole."""

    site: str
    zone: str
    station: str = ""

    @property
    def said(self) -> str:
        """SITE/ZONE."""
        return f"{self.site}/{self.zone}"


class KnownPlaces:
    """Zones and stations by their codes, without case; time zones of the sites."""

    def __init__(self, books: Sequence[SiteBook]) -> None:
        self.time_zone = {book.site.code: book.site.time_zone for book in books}
        self._zones = {
            f"{book.site.code}/{zone.zone.code}".casefold(): (book.site.code, zone)
            for book in books
            for zone in book.zones
        }
        self.names = [f"{site}/{zone.zone.code}" for site, zone in self._zones.values()]

    def zone(self, text: str) -> Place:
        """The zone of a text SITE/ZONE.

        Raises
        ------
        Unfit : there is none.
        """
        found = self._zones.get(text.strip().casefold())
        if found is None:
            otherwise = "write SITE/ZONE of a zone that is known, or load the zone first"
            raise Unfit("is no zone known here", _ALLOWED, nearest(text, self.names, otherwise))
        return Place(found[0], found[1].zone.code)

    def place(self, text: str) -> Place:
        """The place of a text SITE/ZONE/STATION or SITE/ZONE.

        Raises
        ------
        Unfit : there is no such zone, or the station is not one of its own.
        """
        parts = [part.strip() for part in re.split(r"[/\\]", text.strip())]
        if len(parts) == 2:
            return self.zone("/".join(parts))
        if len(parts) != 3 or not all(parts):
            otherwise = "write SITE/ZONE/STATION"
            raise Unfit("is no place known here", _ALLOWED, otherwise)
        place = self.zone("/".join(parts[:2]))
        return Place(place.site, place.zone, self._station(place, parts[2]))

    def _station(self, place: Place, typed: str) -> str:
        _, book = self._zones[place.said.casefold()]
        codes = {station.code.casefold(): station.code for station in book.stations}
        if typed.casefold() in codes:
            return codes[typed.casefold()]
        if not codes and not code_problem(typed):
            return typed
        elsewhere = sorted(
            f"{site}/{zone.zone.code}"
            for site, zone in self._zones.values()
            if any(station.code.casefold() == typed.casefold() for station in zone.stations)
        )
        listed = ", ".join(codes.values()) or "a short code"
        otherwise = "correct the station, or add it to stations.csv and load"
        if elsewhere and site_of(elsewhere, place.site):
            own = site_of(elsewhere, place.site)
            problem = f"station {typed} is not one of {place.said} but of {' and '.join(own[:3])}"
            raise Unfit(problem, f"stations of {place.said}: {listed}", otherwise)
        problem = f"{place.said} has no station {typed}"
        raise Unfit(problem, f"stations: {listed}", nearest(typed, codes.values(), otherwise))


def site_of(places: Sequence[str], site: str) -> list[str]:
    """Those of these zones that lie at a site."""
    return [place for place in places if place.partition("/")[0] == site]


class PlaceNames:
    """Reads the places of one export by its mapping; each name is looked up once."""

    def __init__(self, known: KnownPlaces, mapping: ExportMapping) -> None:
        self._known = known
        self._named = mapping.table("places")
        shape = mapping.get("pattern", "place")
        self._pattern = pattern_of(shape) if shape else None
        self._read: dict[str, Place | Unfit | None] = {}

    def place(self, text: str) -> Place | None:
        """The place meant; None where the mapping leaves it out.

        Raises
        ------
        Unfit : nobody knows it.
        """
        return read_once(self._read, text, lambda: self._look_up(text))

    def _look_up(self, text: str) -> Place | None:
        named = self._meant(text)
        if named == LEFT_OUT:
            return None
        if named is not None:
            return self._known.place(named)
        if self._pattern is not None:
            found = self._pattern.fullmatch(text)
            if found is not None:
                return self._known.place(
                    "/".join(filter(None, found.group("site", "zone")))
                    + (f"/{found['station']}" if found.groupdict().get("station") else "")
                )
        return self._known.place(text)

    def _meant(self, text: str) -> str | None:
        """What [places] says of the whole name, or of its zone with the station left as it is."""
        if text in self._named:
            return str(self._named[text])
        zone, slash, station = text.rpartition("/")
        if slash and zone in self._named:
            return f"{self._named[zone]}/{station}" if self._named[zone] else LEFT_OUT
        return None


def pattern_of(shape: str) -> re.Pattern[str]:
    """The pattern of a shape such as "{site}-{zone}-S{station}".

    Raises
    ------
    Unfit : it names no site or no zone, or one of them twice.
    """
    parts = _PATTERN_PART.findall(shape)
    if not {"site", "zone"} <= set(parts) or len(set(parts)) < len(parts):
        allowed = "{site} and {zone}, and {station} if there is one, each once"
        raise Unfit("is no pattern of places", allowed, "correct [pattern] place of the mapping")
    made = ""
    for piece in re.split(r"(\{(?:site|zone|station)\})", shape):
        name = _PATTERN_PART.fullmatch(piece)
        made += f"(?P<{name[1]}>.+?)" if name else re.escape(piece)
    return re.compile(made)


def meter_codes(meters: Sequence[Instrument], named: Mapping[str, Setting]) -> dict[str, str]:
    """Codes of meters by what an export may call them: code, serial number, the mapping's words."""
    serials: dict[str, set[str]] = {}
    for meter in meters:
        if meter.serial:
            serials.setdefault(folded(meter.serial), set()).add(meter.code)
    codes = {serial: of.copy().pop() for serial, of in serials.items() if len(of) == 1}
    codes |= {folded(meter.code): meter.code for meter in meters}
    return codes | {folded(text): str(code) for text, code in named.items()}
