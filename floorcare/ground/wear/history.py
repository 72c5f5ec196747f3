"""A zone's history as somebody sees it who looks at the floor now and then.

Haze, film and scratching are followed apart. Haze forgets: a burnish leaves a third of it, so a
look needs only the last few. Film and scratching change by coats and polishes alone, a handful a
zone. Every look of every zone is then taken at once, with no walk from day to day.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from floorcare.ground.trade.surface import WearLaw
from floorcare.ground.wear.model import (
    Flags,
    Floats,
    FloorState,
    Rates,
    Whole,
    hazed,
    worn,
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lineup:
    """Rows of many zones, lined up by their rank within the zone.

    zone_order : (Z,), zones with most rows first.
    active : (S,), how many zones have an s-th row.
    rows : (N,), the row numbers, rank by rank, within a rank in zone order.
    back, zone_back : (N,), (Z,), where each row stands in `rows`, each zone in `zone_order`.
    """

    zone_order: Whole
    active: Whole
    rows: Whole
    back: Whole
    zone_back: Whole

    def ranks(self) -> Iterator[Whole]:
        """The row numbers of the first rows of all zones, then of the second, …

        Assumption: row k of a rank belongs to the k-th zone of `zone_order`.
        """
        for place in self.places():
            yield self.rows[place]

    def places(self) -> Iterator[slice]:
        """Where each rank stands in `rows`.

        Assumption: as `ranks`.
        """
        at = 0
        for count in self.active.tolist():
            yield slice(at, at + count)
            at += count


def firsts(zone: Whole) -> Flags:
    """Which rows (N,) are the first of their zone.

    Parameters
    ----------
    zone : (N,), ascending.

    Assumption: none.
    """
    first = np.ones(zone.shape, dtype=np.bool_)
    first[1:] = zone[1:] != zone[:-1]
    return first


def line_up(zone: Whole, zones: int) -> Lineup:
    """Line up rows that are sorted by zone and, within a zone, by time.

    Parameters
    ----------
    zone : (N,), the zone of each row, ascending.
    zones : how many zones there are, those without rows included.

    Assumption: none; a zone's rows keep their order.
    """
    count = np.bincount(zone, minlength=zones)
    zone_order = np.argsort(-count, kind="stable")
    position = np.empty(zones, dtype=np.int64)
    position[zone_order] = np.arange(zones)
    rank = np.arange(zone.size) - (np.cumsum(count) - count)[zone]
    active = np.bincount(rank)
    back = (np.cumsum(active) - active)[rank] + position[zone]
    rows = np.empty_like(back)
    rows[back] = np.arange(zone.size)
    return Lineup(zone_order=zone_order, active=active, rows=rows, back=back, zone_back=position)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Transit:
    """How the two walks get from one look to the next: w gains variance, e is also cut.

    drift_var : variance w gains.
    shock_kept : factor on e.
    shock_var : variance e gains, cuts counted.
    """

    drift_var: Floats
    shock_kept: Floats
    shock_var: Floats

    def rows(self, index: Whole) -> "Transit":
        """The way to some of the looks.

        Assumption: looks stand on the only axis.
        """
        return Transit(
            drift_var=self.drift_var[index],
            shock_kept=self.shock_kept[index],
            shock_var=self.shock_var[index],
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Looks:
    """N looks at floors, sorted by zone and time.

    zone : (N,).
    haze_exposure : (J, N), thousand passes of each stretch between haze-cutting treatments, the
        newest first; haze_kept : (J, N), what the treatment at its beginning left.
    from_opening : (N,), the oldest stretch begins at the opening; else older haze is forgotten.
    coats : treatments of film and finish, with the exposure before each.
    epoch : (N,), the coat row before the look, -1 for the opening.
    coat_exposure : (N,), thousand passes since then.
    days, jump_var, shock_kept, shock_days : (N,), since the zone's look before: days, variance by
        which treatments may have moved the level, share of a shock left, and the days of shocks
        still felt (see `Transit`).
    """

    zone: Whole
    haze_exposure: Floats
    haze_kept: Floats
    from_opening: Flags
    coats: "Coats"
    epoch: Whole
    coat_exposure: Floats
    days: Floats
    jump_var: Floats
    shock_kept: Floats
    shock_days: Floats

    def transit(self, law: WearLaw) -> Transit:
        """The walks' way to each look from the zone's look before, under a law's noise.

        Assumption: independent daily increments; a treatment leaves `haze_kept` of the shock walk.
        """
        return Transit(
            drift_var=law.drift_sd**2 * self.days + self.jump_var,
            shock_kept=self.shock_kept,
            shock_var=law.shock_sd**2 * self.shock_days,
        )

    def only(self, index: Whole) -> "Looks":
        """Some of the looks, for states only: the walks' way to them is left as it was.

        Assumption: looks are not reordered.
        """
        return replace(
            self,
            zone=self.zone[index],
            haze_exposure=self.haze_exposure[:, index],
            haze_kept=self.haze_kept[:, index],
            from_opening=self.from_opening[index],
            epoch=self.epoch[index],
            coat_exposure=self.coat_exposure[index],
        )

    def haze(self, opening: Floats, rate: Floats) -> Floats:
        """(P, N) haze at each look under P assumptions.

        Parameters
        ----------
        opening, rate : (P, Z).

        Assumption: as `wear_by` and `treat`.
        """
        own = rate[:, self.zone]
        haze = np.where(self.from_opening, opening[:, self.zone], 0.0)
        for exposure, kept in zip(self.haze_exposure[::-1], self.haze_kept[::-1], strict=True):
            haze = hazed(haze * kept, own, exposure)
        return haze

    def coat(
        self, film: Floats, scratch: Floats, rates: Rates, law: WearLaw
    ) -> tuple[Floats, Floats]:
        """(P, N) film and micro-scratching at each look under P assumptions.

        Parameters
        ----------
        film, scratch : (P, Z), at the opening.
        rates : (P, Z).

        Assumption: as `wear_by` and `treat`.
        """
        film_laid, scratch_laid = self.coats.live(film, scratch, rates, law)
        opened = self.epoch < 0
        film, scratch = film[:, self.zone], scratch[:, self.zone]
        if film_laid.shape[1]:
            film = np.where(opened, film, film_laid[:, self.epoch])
            scratch = np.where(opened, scratch, scratch_laid[:, self.epoch])
        own = Rates(
            haze=rates.haze[:, :0],
            film=rates.film[:, self.zone],
            scratch=rates.scratch[:, self.zone],
        )
        return worn(film, scratch, own, law, self.coat_exposure)

    def state(self, opening: FloorState, rates: Rates, law: WearLaw) -> FloorState:
        """The state (P, N) at each look.

        Parameters
        ----------
        opening, rates : (P, Z).

        Assumption: as `wear_by` and `treat`.
        """
        film, scratch = self.coat(opening.film, opening.scratch, rates, law)
        return FloorState(haze=self.haze(opening.haze, rates.haze), film=film, scratch=scratch)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Coats:
    """The treatments of film and finish of all zones, C rows by zone and time.

    exposure : (C,), thousand passes since the row before it or the opening.
    film_kept, film_added, scratch_kept, scratch_added : (C,), see `Factors`.
    """

    lineup: Lineup
    exposure: Floats
    film_kept: Floats
    film_added: Floats
    scratch_kept: Floats
    scratch_added: Floats

    def live(
        self, film: Floats, scratch: Floats, rates: Rates, law: WearLaw
    ) -> tuple[Floats, Floats]:
        """(P, C) film and scratching just after each treatment.

        Assumption: as `wear_by` and `treat`.
        """
        order, count = self.lineup.zone_order, self.exposure.size
        laid_film, laid_scratch = np.empty((2, film.shape[0], count))
        busy = order[: self.lineup.active[0]] if count else order[:0]
        film, scratch = film[:, busy], scratch[:, busy]
        own = Rates(
            haze=rates.haze[:, :0], film=rates.film[:, busy], scratch=rates.scratch[:, busy]
        )
        for rows in self.lineup.ranks():
            here = slice(0, rows.size)
            own = Rates(haze=own.haze, film=own.film[:, here], scratch=own.scratch[:, here])
            film, scratch = worn(film[:, here], scratch[:, here], own, law, self.exposure[rows])
            film = film * self.film_kept[rows] + self.film_added[rows]
            scratch = scratch * self.scratch_kept[rows] + self.scratch_added[rows]
            laid_film[:, rows], laid_scratch[:, rows] = film, scratch
        return laid_film, laid_scratch
