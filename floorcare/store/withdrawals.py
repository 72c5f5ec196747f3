"""Rows taken back: which row each withdrawal means."""

from collections.abc import Sequence
from datetime import date

from floorcare.errors import NotKnown, NotUnderstood
from floorcare.ground.trade.book import Withdrawal
from floorcare.store import rows
from floorcare.store.known import Known
from floorcare.store.merge import Values

KINDS = ("reading", "treatment done", "shut day", "traffic", "routine", "promise", "call")


class Withdrawals:
    """What is to be taken back, kind by kind, as the keys by which rows are brought in."""

    def __init__(self, withdrawn: Sequence[Withdrawal], known: Known) -> None:
        for one in withdrawn:
            if one.kind not in KINDS:
                raise NotUnderstood(f"a {one.kind} cannot be withdrawn: allowed {', '.join(KINDS)}")
        self._withdrawn = withdrawn
        self._known = known

    def of(self, kind: str) -> dict[Values, str]:
        """The keys of that kind's rows, each with its name for people.

        Raises
        ------
        NotKnown : the site, zone or station is not known.
        """
        return {self._key(one): _named(one) for one in self._withdrawn if one.kind == kind}

    def _key(self, one: Withdrawal) -> Values:
        where = _named(one)
        if one.kind == "call":
            return one.key
        if one.kind == "shut day":
            parent = self._known.id(rows.site, one.site, where)
        else:
            parent = self._known.zone(one.site, one.zone, where)
        if one.kind != "reading":
            *names, day = one.key
            return (parent, *names, date.fromisoformat(day))
        station, day, minute, measure, geometry, *how = one.key
        when = (date.fromisoformat(day), int(minute))
        return (parent, self._station(parent, station, where), *when, measure, int(geometry), *how)

    def _station(self, zone_id: int, station: str, where: str) -> int | None:
        if not station:
            return None
        c = rows.station.c
        found = self._known.ids(c.zone_id, c.code).get((zone_id, station))
        if found is None:
            raise NotKnown(f'station "{station}" is not known', where=where)
        return found


def _named(one: Withdrawal) -> str:
    place = f"{one.site}/{one.zone}" if one.zone else one.site
    return " ".join(part for part in (one.kind, place, *one.key) if part)
