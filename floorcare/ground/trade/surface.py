"""A surface: its ladder, what each treatment does to the floor, how it is done, what is forbidden.

Surfaces are data, one TOML file each, read and checked by `store/surfaces.py`; every number there
stands beside its source or the word Assumption.
"""

from dataclasses import dataclass, replace

from floorcare.ground.trade.treatment import Work
from floorcare.ground.units.dilution import Dilution


@dataclass(frozen=True, slots=True, kw_only=True)
class WearLaw:
    """How this surface loses its gloss. All rates are per thousand weighted passes.

    haze_rate, film_rate, scratch_rate : k_h, k_f, k_r.
    ageing : passes (thousand a day) added for cleaning and ageing, 0.10.
    haze_loss : a, share of gloss lost at full haze, 0..1.
    film_scratch_share : η, share of scratching the protector takes instead of the floor.
    finish_floor : r_min, the share of the finish that is never lost, 0..1.
    film_gloss : s, ln-gloss carried by a whole protector film.
    rate_sd_counted, rate_sd_assumed : prior sd of (u_h, u_r) with and without a counter.
    rate_correlation : prior correlation of u_h and u_r.
    first_reading_sd : sd of the first reading's own error d₀ (ln gloss).
    drift_sd : sd of the surface drift w, ln gloss per √day.
    shock_sd : sd of the haze-shock walk e, ln gloss per √day.
    instrument_sd, station_sd : reading error, ln gloss; the latter falls with more stations.
    gross_share, gross_factor : share of gross readings and how much wider they are.
    day_sd : sd of what a single day does to the gloss, gone when it is read again (ln gloss).
    """

    haze_rate: float
    film_rate: float
    scratch_rate: float
    ageing: float
    haze_loss: float
    film_scratch_share: float
    finish_floor: float
    film_gloss: float
    rate_sd_counted: float
    rate_sd_assumed: float
    rate_correlation: float
    first_reading_sd: float
    drift_sd: float
    shock_sd: float
    instrument_sd: float
    station_sd: float
    gross_share: float
    gross_factor: float
    day_sd: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What a treatment does to the state (haze h, film f, micro-scratching ω).

    haze_kept : factor on h and on the haze-shock walk e (0 takes all haze away).
    film_kept : factor on f, applied before `film_to`.
    film_to : f afterwards where the treatment lays or takes the protector, else None.
    scratch_kept : factor on ω, applied before `scratch_to`.
    scratch_to : ω afterwards where the treatment refinishes the floor, else None.
    level_sd : how far the gloss of a fresh floor may differ from then on (sd, ln gloss).
    """

    haze_kept: float = 1.0
    film_kept: float = 1.0
    film_to: float | None = None
    scratch_kept: float = 1.0
    scratch_to: float | None = None
    level_sd: float = 0.0

    @property
    def treats(self) -> bool:
        """Whether it does anything to the floor, besides what is known of its level."""
        return replace(self, level_sd=0.0) != NO_EFFECT


NO_EFFECT = Effect()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a method.

    name : what is done, in the imperative.
    machine, tool : codes of the surface's machine and tool lists, "" for hand work.
    rate_m2_per_hour : practical rate of one pass, efficiency included; 0 where the step takes a
        fixed time.
    passes : how often the whole zone is gone over.
    minutes_fixed : set-up or hand work that does not grow with the area.
    wait_minutes : time that must pass before the next step in the same zone.
    product : code of the surface's material list, "" for none.
    coats : coats of the product laid in this step.
    people : people this step binds.
    wet : the step leaves the floor wet.
    """

    name: str
    machine: str = ""
    tool: str = ""
    rate_m2_per_hour: float = 0.0
    passes: int = 1
    minutes_fixed: float = 0.0
    wait_minutes: int = 0
    product: str = ""
    coats: int = 0
    people: int = 1
    wet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A product. `coverage_m2_per_l` is per coat; `from_sheet` is False for a marked estimate.

    dilution_parts, dilution : N of 1:N and what it means, where it is used as a solution; the
        coverage is the product's own all the same.
    """

    code: str
    name: str
    coverage_m2_per_l: float
    waste_share: float
    ph: float | None = None
    from_sheet: bool = False
    source: str = ""
    dilution_parts: float | None = None
    dilution: Dilution = Dilution.PARTS_TO_PARTS


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """A kind of machine: `width_m` working width, `fuel` "" or the fuel it burns indoors.

    heads : how many pads or diamonds make one set of it.
    water_l_per_m2 : clear water it lays on each pass where the step brings no solution.
    """

    code: str
    name: str
    width_m: float = 0.0
    fuel: str = ""
    loud: bool = False
    dust: bool = False
    heads: int = 1
    water_l_per_m2: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A pad, brush or diamond; `life_m2`, of a set, is None until learned from recorded use."""

    code: str
    name: str
    life_m2: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """One treatment of the surface's ladder.

    work : the treatment.
    effect : what it does to the floor; `effect_spread` is the sd of ln of the kept shares.
    worthwhile_hold_days : a rung is worth taking if it keeps the promise at least so long.
    forward_days : how many days it may usefully be brought forward of its target.
    cap_days : at the latest so long after the last one, even where wear is slow; None for no cap.
    min_age_days : days after the pour before it is allowed.
    after_densify_hours : hours that must pass since a densifier.
    changes_surface : a slip test follows it.
    restores_slip : the one exception a slip guard lets through.
    resets_reading : a rise of gloss after it belongs to a new epoch.
    needs : what an access window must permit: "loud", "wet", "dust", "fuel machine".
    steps : the method.
    cautions : codes of the caution list, in the order they are printed.
    """

    work: Work
    effect: Effect
    effect_spread: float
    worthwhile_hold_days: int
    forward_days: int
    cap_days: int | None
    min_age_days: int
    after_densify_hours: int
    changes_surface: bool
    restores_slip: bool
    resets_reading: bool
    needs: frozenset[str]
    steps: tuple[Step, ...]
    cautions: tuple[str, ...]
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prohibition:
    """What may never be used on this surface: kind is "product pH below", "tool", "machine"."""

    kind: str
    limit: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A surface whole.

    ladder : the rungs in order of aggressiveness; the wear ladder is those with a hold.
    methods : every treatment the surface knows, ladder or not, by work.
    coat_limit : protector coats before the film must come off.
    escape_share : re-polish when a coat would live less than this share of a re-polish's life.
    """

    code: str
    name: str
    law: WearLaw
    ladder: tuple[Work, ...]
    methods: dict[Work, Rung]
    materials: dict[str, Material]
    machines: dict[str, Machine]
    tools: dict[str, Tool]
    prohibitions: tuple[Prohibition, ...]
    coat_limit: int
    escape_share: float
    note: str = ""

    def rung(self, work: Work) -> Rung | None:
        """The treatment's entry, or None where this surface does not know it."""
        return self.methods.get(work)

    def rung_index(self, work: Work) -> int:
        """Position on the ladder, -1 where the treatment is not a rung of it."""
        return self.ladder.index(work) if work in self.ladder else -1
