"""A zone's book before it is believed: what cannot be is left out, what is strange is asked about.

Intake refuses most of this where it is typed; a book may still hold it after a date of the zone was
changed.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import combinations

from floorcare.findings import Finding
from floorcare.ground.trade.book import TreatmentDone, ZoneBook
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.reading import Measure, Reading, SurfaceState
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening

LEAST_ALIKE = 8
"""So many gloss values that are all the same are asked about. Assumption."""
COAT_LOST_DAYS = 7
"""A coat is laid after a polish or strip, not so few days before it. Assumption."""

_TAKES_COAT = (Work.REPOLISH, Work.FULL_RESTORATION, Work.STRIP)


@dataclass(frozen=True, slots=True, kw_only=True)
class BelievedBook:
    """A zone's book without what cannot be, and what a person is asked about it."""

    book: ZoneBook
    findings: tuple[Finding, ...]


def believed_book(
    name: str, book: ZoneBook, station_zones: Mapping[str, Sequence[str]]
) -> BelievedBook:
    """A zone's book without what cannot be.

    Left out: readings and treatments before the pour, readings before care. Asked about and kept:
    stations the zone does not have, gloss values all the same, a coat just before a polish or
    strip, terms at one time with different references.

    Parameters
    ----------
    name : SITE/ZONE.
    station_zones : the zones of the site that list each station.

    Assumption: the date of the pour is right, and what contradicts it is not.
    """
    pour, begun = book.zone.poured_on, _begun(book)
    floor_from = begun if pour is None else max(begun, pour)
    early = [r for r in book.readings if r.taken_on < _earliest(r, floor_from)]
    unlaid = [d for d in book.done if pour is not None and d.done_on < pour]
    kept = book
    if early or unlaid:
        kept = replace(
            book,
            readings=tuple(r for r in book.readings if r.taken_on >= _earliest(r, floor_from)),
            done=tuple(d for d in book.done if pour is None or d.done_on >= pour),
        )
    findings = (
        *_too_early(name, early, begun, pour),
        *_before_the_pour(name, unlaid, book, pour),
        *_strange_stations(name, book, station_zones),
        *_all_alike(name, kept.readings),
        *_coats_lost(name, kept.done),
        *_two_references(name, book),
    )
    return BelievedBook(book=kept, findings=findings)


def stations_by_site(
    zones: Sequence[tuple[str, ZoneBook]],
) -> Mapping[str, Mapping[str, Sequence[str]]]:
    """The zones that list each station, by site and station.

    Parameters
    ----------
    zones : (site code, book) pairs.

    Assumption: none.
    """
    found: defaultdict[str, defaultdict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for site, book in zones:
        of_site = found[site]
        for station in book.stations:
            of_site[station.code].append(book.zone.code)
    return found


def _begun(book: ZoneBook) -> date:
    """First day on which anything is known of the floor."""
    zone = book.zone
    dated = zone.opening in (Opening.DATED, Opening.ABOUT) and zone.polished_on is not None
    return min(zone.starts_on, zone.polished_on) if dated and zone.polished_on else zone.starts_on


def _earliest(r: Reading, floor_from: date) -> date:
    """A reading after the work of the eve sees the floor as it opens."""
    return floor_from - timedelta(days=r.state is SurfaceState.AFTER_BURNISH)


def _too_early(
    name: str, early: Sequence[Reading], begun: date, pour: date | None
) -> Iterator[Finding]:
    if early:
        first = min(early, key=lambda r: (r.taken_on, r.taken_minute))
        poured = pour is not None and first.taken_on < pour
        what = f"before the floor was poured on {pour}" if poured else f"before {begun}"
        many = "" if len(early) == 1 else f", the first of {len(early):,} such readings"
        which = f"station {first.station}" if first.station else "the zone"
        yield _asks(
            f"zone {name}: the reading of {which} on {first.taken_on} lies {what}"
            f"{'' if poured else ', where its care or its polish begins'}{many}; it is kept but"
            " not used",
            _value(first),
            mend="correct the date of the reading, or the zone's "
            + ("poured_on" if poured else "starts_on or polished_on"),
        )


def _value(r: Reading) -> str:
    return f"{r.value:g} GU" if r.measure is Measure.GLOSS else f"{r.measure.value} {r.value:g}"


def _before_the_pour(
    name: str, unlaid: Iterable[TreatmentDone], book: ZoneBook, pour: date | None
) -> Iterator[Finding]:
    for done in unlaid:
        yield _asks(
            f"zone {name}: the {done.work.value} of {done.done_on} lies before the floor was poured"
            f" on {pour}; it is kept but not counted",
            str(done.done_on),
            mend="correct its date or the zone's poured_on",
        )
    polished = book.zone.polished_on
    if pour is not None and polished is not None and polished < pour:
        yield _asks(
            f"zone {name} was polished on {polished}, before it was poured on {pour}; it is"
            " followed from the pour",
            str(polished),
            mend="correct polished_on or poured_on",
        )


def _strange_stations(
    name: str, book: ZoneBook, station_zones: Mapping[str, Sequence[str]]
) -> Iterator[Finding]:
    own = {station.code for station in book.stations}
    if not own:
        return
    seen: set[str] = set()
    for r in book.readings:
        if r.station and r.station not in own | seen and r.measure is Measure.GLOSS:
            seen.add(r.station)
            where = [zone for zone in station_zones.get(r.station, ()) if zone != book.zone.code]
            of_others = f"; it is listed in {', '.join(where)}" if where else ""
            yield _asks(
                f"zone {name} was read at station {r.station} on {r.taken_on}, which it does not"
                f" have{of_others}; the reading is used",
                _value(r),
                mend="list the station in this zone, or enter its readings in the zone it lies in",
            )


def _all_alike(name: str, readings: Iterable[Reading]) -> Iterator[Finding]:
    gloss = [r for r in readings if r.measure is Measure.GLOSS]
    if len(gloss) < LEAST_ALIKE or len({r.value for r in gloss}) > 1:
        return
    yield _asks(
        f"zone {name}: all {len(gloss):,} gloss values from {gloss[0].taken_on} to"
        f" {gloss[-1].taken_on} are the same; they are used",
        _value(gloss[0]),
        mend="check that the meter was not stuck and that they were read one by one",
    )


def _coats_lost(name: str, done: Sequence[TreatmentDone]) -> Iterator[Finding]:
    coats = [d for d in done if d.work is Work.RECOAT]
    for taking in (d for d in done if d.work in _TAKES_COAT):
        for coat in coats:
            if 0 < (taking.done_on - coat.done_on).days <= COAT_LOST_DAYS:
                yield _asks(
                    f"zone {name}: the recoat of {coat.done_on} comes before the"
                    f" {taking.work.value} of {taking.done_on}, which takes it off again",
                    str(coat.done_on),
                    mend="correct the dates if they were entered the wrong way round",
                )


def _two_references(name: str, book: ZoneBook) -> Iterator[Finding]:
    looks = [p for p in book.promises if p.kind is PromiseKind.APPEARANCE and p.reference_gu]
    for one, other in combinations(looks, 2):
        together = one.starts_on <= other.ends_on and other.starts_on <= one.ends_on
        if together and one.reference_gu != other.reference_gu:
            # the later in the book is the one in force, as `ZoneBook.promise_on` has it
            yield _asks(
                f"zone {name} has two references at one time: {one.reference_gu:g} GU in contract"
                f" {one.contract} and {other.reference_gu:g} GU in {other.contract}; the second"
                " is held to",
                f"{one.reference_gu:g} GU",
                mend="end one of the promises, or agree on one reference",
            )


def _asks(problem: str, value: str, *, mend: str) -> Finding:
    return Finding(problem=problem, value=value, mend=mend, weight="asks")
