"""Dues of one site gathered into as few visits as their windows allow.

Windows over common nights are stabbed greedily by their end, which is optimal as long as every
night has room; night lengths and what windows permit make it a start, not an optimum.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from math import ceil

from floorcare.ground.schedule.answers import NOTHING_SAID, SiteAnswers
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due, Unplaced, VisitLine, needs_of
from floorcare.ground.work.minutes import line_minutes
from floorcare.ground.work.timeline import TimedLine, lines_minutes, sequence_key
from floorcare.ground.worktime.site_time import Night

MOST_PARTS = 30
"""A work that does not fit so many nights is not planned but asked about. Assumption."""

LATE_DAYS = 42
"""Work that finds no night in its window is placed up to so many days late. Assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stub:
    """A visit in the making: its night, lines and how far it may move.

    earliest, latest : nights between which all its lines agree; equal where it may not move.
    minutes : clock minutes on site, set-up and the last drying included.
    """

    site: str
    night: Night
    lines: tuple[VisitLine, ...]
    earliest: date
    latest: date
    minutes: int

    @property
    def needs(self) -> frozenset[str]:
        """What the access window must permit."""
        return needs_of(self.lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteNights:
    """The nights a site can be worked by its branch, and how long a visit may last on each.

    nights : rising, only those on which a crew goes out, all after today.
    people : people of one crew.
    visit_minutes : longest stay one crew's shift leaves, travel taken off.
    answers : what the customer said of its nights.
    """

    site: str
    nights: tuple[Night, ...]
    people: int
    visit_minutes: int
    answers: SiteAnswers = NOTHING_SAID

    def room(self, night: Night) -> int:
        """Clock minutes a visit may last that night."""
        return min(night.minutes, self.visit_minutes)


@dataclass(slots=True)
class _Open:
    """A night being filled."""

    night: Night
    pieces: list[VisitLine] = field(default_factory=list)
    pinned: bool = False


def timed_line(line: VisitLine, surface: Surface) -> TimedLine:
    """The line as the timeline takes it: by its method's rates, or by minutes that were typed.

    Assumption: minutes that are not what the rates come to were typed.
    """
    rung = surface.rung(line.work)
    by_rate = rung is not None and line_minutes(rung, line.area_m2).minutes == line.minutes
    return TimedLine(
        zone=line.zone,
        work=line.work,
        rung=rung,
        area_m2=line.area_m2,
        minutes=None if by_rate and line.area_m2 is not None else line.minutes,
    )


def clock_minutes(lines: Sequence[VisitLine], people: int, surfaces: Mapping[str, Surface]) -> int:
    """Clock minutes of a visit, from arrival to the last reopening and the packed van.

    Parameters
    ----------
    lines : at least one.
    surfaces : the surface of each zone code.

    Source: the visit's own timeline, see ground/work/timeline.
    """
    return lines_minutes(tuple(timed_line(line, surfaces[line.zone]) for line in lines), people)


def gather(
    dues: Sequence[Due], site: SiteNights, surfaces: Mapping[str, Surface]
) -> tuple[tuple[Stub, ...], tuple[Unplaced, ...]]:
    """Visits for a site's dues, and the dues for which there is no night.

    Parameters
    ----------
    dues : of one site, any order.
    site : its nights.
    surfaces : the surface of each zone code.

    Returns
    -------
    Stubs in order of night; the unplaced in order of target.

    Source: interval stabbing by right ends, a textbook greedy optimum for common points.
    """
    opened: list[_Open] = []
    unplaced: list[Unplaced] = []
    for due in sorted(dues, key=lambda d: _order(d, surfaces)):
        parts = _parts(due, site, surfaces)
        if parts == ():
            unplaced.append(_no_night(due, site, surfaces))
        elif len(parts) > 1:
            _place_parts(parts, site, opened, surfaces, unplaced)
        elif not _place(parts[0], site, opened, surfaces):
            unplaced.append(_no_night(due, site, surfaces))
    stubs = [_stub(one, site, opened, surfaces) for one in opened]
    return (
        tuple(sorted(stubs, key=lambda s: (s.night.on, s.night.starts_minute))),
        tuple(sorted(unplaced, key=lambda u: (u.due.target, u.due.zone, u.due.work))),
    )


def _order(
    due: Due, surfaces: Mapping[str, Surface]
) -> tuple[date, bool, bool, date, str, int, int, str]:
    # what is begun goes on first, then what makes a floor safe or was called for, then by target
    rule = due.reason.rule
    rank = _rank(due, surfaces)
    late_answer = rule == "call response" and due.earliest == due.latest
    return (
        date.min if late_answer else due.latest,
        rule != "work begun",
        rule not in ("slip guard", "call response"),
        due.target,
        due.zone,
        rank,
        due.minutes,
        rule,
    )


def _rank(due: Due, surfaces: Mapping[str, Surface]) -> int:
    # tests and readings go behind the treatments they look at
    index = surfaces[due.zone].rung_index(due.work)
    return index if index >= 0 else 100 + sequence_key(due.work)


@dataclass(frozen=True, slots=True)
class _Size:
    """What some lines ask of a night."""

    needs: frozenset[str]
    minutes: int
    lines: Sequence[VisitLine]


def _size(lines: Sequence[VisitLine], site: SiteNights, surfaces: Mapping[str, Surface]) -> _Size:
    # of the very lines the visit would have: their order decides how its waits fall
    left = _in_order(lines, surfaces)
    return _Size(needs_of(left), clock_minutes(left, site.people, surfaces), left)


def _fits(night: Night, size: _Size, site: SiteNights) -> bool:
    fits = size.needs <= night.permits and size.minutes <= site.room(night)
    return fits and site.answers.takes(night.on, size.lines)


def _line(due: Due, *, minutes: int | None = None, area_m2: float | None = None) -> VisitLine:
    return VisitLine(
        zone=due.zone,
        work=due.work,
        minutes=due.minutes if minutes is None else minutes,
        area_m2=due.area_m2 if area_m2 is None else area_m2,
        due=due,
    )


def _parts(due: Due, site: SiteNights, surfaces: Mapping[str, Surface]) -> tuple[VisitLine, ...]:
    """The due as one line, or as equal parts where no night is long enough; () if hopeless."""
    whole, takes = _line(due), site.answers.takes
    last = due.latest + timedelta(days=LATE_DAYS)
    size = _size([whole], site, surfaces)
    if any(_fits(n, size, site) for n in site.nights if due.earliest <= n.on <= last):
        return (whole,)
    permitting = [n for n in site.nights if due.needs <= n.permits and takes(n.on, (whole,))]
    # a longer night half a year off is no reason to wait for it
    fitting = [n for n in permitting if due.earliest <= n.on <= last] or permitting
    if any(_fits(n, size, site) for n in fitting):
        return (whole,)
    room = max(fitting, key=lambda n: (site.room(n), n.minutes), default=None)
    if room is None:
        return ()
    for count in range(2, MOST_PARTS + 1):
        share = None if due.area_m2 is None else round(due.area_m2 / count, 1)
        part = _line(due, minutes=_part_minutes(due, share, count, surfaces), area_m2=share)
        if _fits(room, _size([part], site, surfaces), site):
            return (part,) * count
    return ()


def _part_minutes(
    due: Due, share: float | None, count: int, surfaces: Mapping[str, Surface]
) -> int:
    rung = surfaces[due.zone].rung(due.work)
    by_rate = rung is not None and line_minutes(rung, due.area_m2).minutes == due.minutes
    if rung is not None and by_rate and share is not None:
        return line_minutes(rung, share).minutes
    return ceil(due.minutes / count)


def _place(
    line: VisitLine, site: SiteNights, opened: list[_Open], surfaces: Mapping[str, Surface]
) -> bool:
    due, earliest = line.due, line.due.earliest
    tested = _tested(line, opened, surfaces)
    if tested is not None:
        if _fits(tested.night, _size([*tested.pieces, line], site, surfaces), site):
            tested.pieces.append(line)
            return True
        earliest = tested.night.on + timedelta(days=1)
    for one in sorted(opened, key=lambda o: abs((o.night.on - due.latest).days)):
        if earliest <= one.night.on <= due.latest and _fits(
            one.night, _size([*one.pieces, line], site, surfaces), site
        ):
            one.pieces.append(line)
            return True
    inside = [n for n in site.nights if earliest <= n.on <= due.latest]
    late = max(earliest, due.latest + timedelta(days=1))
    after = [n for n in site.nights if late <= n.on <= due.latest + timedelta(days=LATE_DAYS)]
    taken = {one.night.on for one in opened}
    alone = _size([line], site, surfaces)
    for night in [*sorted(inside, key=lambda n: (n.on, n.minutes), reverse=True), *after]:
        if night.on not in taken and _fits(night, alone, site):
            opened.append(_Open(night=night, pieces=[line], pinned=tested is not None))
            return True
        for one in opened:
            if night.on == one.night.on > due.latest and _fits(
                one.night, _size([*one.pieces, line], site, surfaces), site
            ):
                one.pieces.append(line)
                return True
    return False


def _tested(
    line: VisitLine, opened: Sequence[_Open], surfaces: Mapping[str, Surface]
) -> _Open | None:
    """The last night of the treatment a slip test looks at: the test may not come before it."""
    due = line.due
    if due.work is not Work.SLIP_TEST:
        return None
    same = (due.zone, due.earliest, due.target, due.latest)
    treated = [
        one
        for one in opened
        for p in one.pieces
        if (p.zone, p.due.earliest, p.due.target, p.due.latest) == same
        and surfaces[p.zone].rung(p.work) is not None
    ]
    return max(treated, key=lambda one: one.night.on, default=None)


def _place_parts(
    parts: tuple[VisitLine, ...],
    site: SiteNights,
    opened: list[_Open],
    surfaces: Mapping[str, Surface],
    unplaced: list[Unplaced],
) -> None:
    """Parts of one work go on consecutive free nights, the last of them by the latest night."""
    due = parts[0].due
    taken = {one.night.on for one in opened}
    size = _size(parts[:1], site, surfaces)
    free: dict[date, Night] = {}
    for night in site.nights:
        if night.on not in taken and _fits(night, size, site):
            known = free.get(night.on)
            if known is None or night.minutes > known.minutes:
                free[night.on] = night
    before = [free[on] for on in sorted(free) if due.earliest <= on <= due.latest]
    after = [
        free[on] for on in sorted(free) if due.latest < on <= due.latest + timedelta(days=LATE_DAYS)
    ]
    chosen = before[-len(parts) :]
    chosen += after[: len(parts) - len(chosen)]
    if len(chosen) < len(parts):
        unplaced.append(_no_night(due, site, surfaces, nights=len(parts)))
        return
    for night, part in zip(chosen, parts, strict=True):
        opened.append(_Open(night=night, pieces=[part], pinned=True))


def _stub(
    one: _Open, site: SiteNights, opened: list[_Open], surfaces: Mapping[str, Surface]
) -> Stub:
    """The visit, its night drawn towards the target where its lines and the site allow."""
    earliest = max(line.due.earliest for line in one.pieces)
    latest = min(line.due.latest for line in one.pieces)
    if one.pinned or not earliest <= one.night.on <= latest:
        earliest = latest = one.night.on
    else:
        target = min(line.due.target for line in one.pieces)
        taken = {other.night.on for other in opened if other is not one}
        size = _size(one.pieces, site, surfaces)
        wanted = [
            n
            for n in site.nights
            if earliest <= n.on <= latest and n.on not in taken and _fits(n, size, site)
        ]
        one.night = min(wanted, key=lambda n: (abs((n.on - target).days), n.on, -n.minutes))
    lines = [
        line
        if one.night.on <= line.due.latest
        else replace(line, due=replace(line.due, recheck=True))
        for line in _in_order(one.pieces, surfaces)
    ]
    return Stub(
        site=site.site,
        night=one.night,
        lines=tuple(lines),
        earliest=earliest,
        latest=latest,
        minutes=clock_minutes(lines, site.people, surfaces),
    )


def _in_order(pieces: Sequence[VisitLine], surfaces: Mapping[str, Surface]) -> list[VisitLine]:
    return sorted(
        _without_milder(pieces, surfaces),
        key=lambda p: (p.zone, _rank(p.due, surfaces), p.work),
    )


def _without_milder(
    pieces: Sequence[VisitLine], surfaces: Mapping[str, Surface]
) -> list[VisitLine]:
    """The lines without those that a harder rung of the same night does anyway."""
    kept: list[VisitLine] = []
    for line in pieces:
        rank = surfaces[line.zone].rung_index(line.work)
        others = [p for p in pieces if p is not line and p.zone == line.zone]
        harder = any(
            surfaces[p.zone].rung_index(p.work) > rank >= 0 and p.minutes == p.due.minutes
            for p in others
        )
        same = any(p.work is line.work for p in kept if p.zone == line.zone)
        if not harder and not same:
            kept.append(line)
    return kept


def _no_night(
    due: Due, site: SiteNights, surfaces: Mapping[str, Surface], *, nights: int = 1
) -> Unplaced:
    """Why there is no night, with the constraint that binds and the smallest thing to change."""
    inside = [n for n in site.nights if n.on <= due.latest + timedelta(days=LATE_DAYS)]
    permitting = [n for n in inside if due.needs <= n.permits]
    if not inside:
        why = "no night is open to us before it is more than six weeks late"
        mend = "open one night, or lift a shut day"
    elif not permitting:
        lacking = sorted(due.needs - frozenset().union(*(n.permits for n in inside)))
        named = ", ".join(lacking) or ", ".join(sorted(due.needs))
        why = f"no open night permits {named} work"
        mend = f"have one night's access window permit {named}"
    else:
        longest = max(site.room(n) for n in permitting)
        wanted = clock_minutes([_line(due)], site.people, surfaces)
        if nights > 1:
            why = f"it needs {nights} nights of {longest} min, and so many are not free"
            mend = f"open {nights} nights, or lengthen one to {wanted} min"
        elif wanted > longest and longest < max(n.minutes for n in permitting):
            left = max(0, longest)
            why = f"it takes {wanted} min and a shift less the drive leaves {left}"
            mend = f"lengthen the branch's shift by {wanted - longest} min, or serve it from nearer"
        elif wanted > longest:
            why = f"it takes {wanted} min and the longest open night has {longest}"
            mend = f"lengthen a night by {wanted - longest} min"
        else:
            why = "every open night in reach is full"
            mend = f"open one more night of {wanted} min by {due.latest.isoformat()}"
    return Unplaced(due=due, why=why, mend=mend)
