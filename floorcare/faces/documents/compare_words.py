"""What a comparison of plans says in sentences; page, picture and screen take them from here."""

from collections.abc import Iterator

from floorcare.faces.documents import wording
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.comparison.account import (
    CostSpread,
    GroupCompared,
    PlanFigures,
    Spread,
    Verdict,
)
from floorcare.ground.schedule.comparison.compare import Way
from floorcare.services.compare_plans import PlansCompared

NOTHING = "No zone can be compared: none has readings and a look promised against a reference."
CALENDAR_WORDS = {
    Way.AGREED: "the calendar as agreed",
    Way.HINDSIGHT: "the calendar tuned in hindsight",
}


def whole(compared: PlansCompared) -> GroupCompared | None:
    """All zones compared, None where there are none."""
    return compared.groups[0] if compared.groups else None


def kinds_told(compared: PlansCompared) -> tuple[str, ...]:
    """The kinds of group worth a table: contracts only where they are not one a site each."""
    sites, contracts = groups(compared, "site"), groups(compared, "contract")
    # the same zones and the same figures, whatever they are called
    alike = {(g.zones, g.plans) for g in sites} == {(g.zones, g.plans) for g in contracts}
    return ("currency", "site") if alike else ("currency", "contract", "site")


def groups(compared: PlansCompared, kind: str) -> tuple[GroupCompared, ...]:
    """The groups of one kind."""
    return tuple(group for group in compared.groups if group.kind == kind)


def answer(compared: PlansCompared) -> str:
    """What measured wear costs and keeps against the fixed calendar, in one sentence."""
    every = whole(compared)
    if every is None:
        return NOTHING
    wear, agreed = every.plan(Way.WEAR), every.plan(Way.AGREED)
    cost, fixed = middle_words(wear.cost), middle_words(agreed.cost)
    return (
        f"Measured wear costs {cost} against {fixed} for the fixed calendar, and keeps the look on "
        f"{share_words(wear.share.p50)} against {share_words(agreed.share.p50)} of days."
    )


def sentences(compared: PlansCompared) -> Iterator[str]:
    """What stands behind the answer: hindsight, who wins where, what is alike, what is apart."""
    every = whole(compared)
    if every is not None:
        yield _basis(compared, every)
        yield _hindsight(compared, every)
        for way in (Way.AGREED, Way.HINDSIGHT):
            yield from _winners(compared, way)
    yield from _promised(compared)
    yield from _alike(compared)


def _basis(compared: PlansCompared, every: GroupCompared) -> str:
    years = wording.count(compared.years, "year")
    return (
        f"{wording.count(every.zones, 'zone')} over {years}, to {said(compared.last_on)}, in "
        f"{wording.count(compared.futures, 'future')} of each floor; the middle one is told, one "
        "in ten lies below and above the figures in brackets."
    )


def _hindsight(compared: PlansCompared, every: GroupCompared) -> str:
    tuned = every.plan(Way.HINDSIGHT)
    cost, look = middle_words(tuned.cost), share_words(tuned.share.p50)
    factor = f"every gap × {compared.factor:.2f}"
    if compared.reached:
        start = f"A calendar tuned in hindsight to the same look ({factor}) costs {cost}"
    else:
        start = (
            f"No stretch of this calendar comes to the same look; the nearest ({factor}) keeps it "
            f"on {look} of days and costs {cost}"
        )
    cheaper = every.against(Way.HINDSIGHT).cheaper_in
    if cheaper is None:
        return f"{start}."
    return f"{start}; measured wear costs less in {share_words(cheaper)} of the futures."


def _winners(compared: PlansCompared, way: Way) -> Iterator[str]:
    """Where each of the two wins against the other, the calendar first and even where nowhere."""
    name = CALENDAR_WORDS[way]
    by_verdict: dict[Verdict | None, list[str]] = {}
    for group in groups(compared, "site"):
        by_verdict.setdefault(group.against(way).verdict, []).append(group.name)
    calendar = by_verdict.get(Verdict.CALENDAR, [])
    start = name[0].upper() + name[1:]
    yield f"{start} wins at {_listed(calendar)}." if calendar else f"{start} wins nowhere."
    parts = [
        ("measured wear wins at", Verdict.WEAR),
        ("it costs more and keeps more at", Verdict.MORE_FOR_MORE),
        ("it costs less and keeps less at", Verdict.LESS_FOR_LESS),
        ("there is no difference at", Verdict.NEITHER),
    ]
    others = [f"{words} {_listed(by_verdict[v])}" for words, v in parts if v in by_verdict]
    if others:
        text = "; ".join(others)
        text = (
            text
            if Verdict.WEAR in by_verdict
            else text.replace("it costs", "measured wear costs", 1)
        )
        yield f"  Against it {text}."


def _promised(compared: PlansCompared) -> Iterator[str]:
    promised = compared.promised
    if promised is None:
        return
    if not promised.cost_more:
        yield "Promised rhythms cost measured wear nothing beyond what wear asks for."
        return
    yield (
        "Promised rhythms, kept in every plan, cost "
        f"{money_words(promised.cost_more)} beyond what wear asks for, and change the days in "
        f"promise by {100 * promised.share_more.p50:+z.1f} points."
    )


def _alike(compared: PlansCompared) -> Iterator[str]:
    if compared.round_hours:
        yield (
            f"Our standing rounds take {compared.round_hours:,.0f} hours in every plan alike and "
            "are in no figure."
        )
    for one in compared.apart:
        yield (
            f"Apart, as agreed in every plan: {wording.count(one.zones, 'zone')}, {one.why} "
            f"({one.hours:,.0f} hours, {one.cost:,.0f} {one.currency} without visits' own cost)."
        )
    if compared.standard:
        standard = "; ".join(compared.standard)
        yield f"No rate is entered for these, so they count as standard: {standard}."


MEANING = (
    "Each future is a draw of the zone's floor as its readings leave it, lived day by day under "
    "the same traffic and the same chance in every plan.",
    "Measured wear reads each zone once a quarter, knows only those readings, and decides each "
    "week by the ladder. Its reading rounds are in its cost; the calendars read nothing.",
    "The calendar as agreed goes on as the routines say, else as often as the work was done up to "
    "now, else by the surface's cap. Hindsight stretches all its gaps by one factor.",
    "Cost: labour, product, machines and each visit's set-up and drive at today's rates; no "
    "material for pads and diamonds, no escalator, no overhead.",
)


def middle_words(cost: tuple[CostSpread, ...]) -> str:
    """Middle costs of every currency.

    >>> middle_words((CostSpread(currency="EUR", amount=Spread(p10=900, p50=1000, p90=1200)),))
    '1,000 EUR'
    """
    return " and ".join(f"{one.amount.p50:,.0f} {one.currency}" for one in cost)


def money_words(cost: tuple[CostSpread, ...]) -> str:
    """Costs of every currency with their spread, left out where there is none to see.

    >>> money_words((CostSpread(currency="EUR", amount=Spread(p10=900, p50=1000, p90=1200)),))
    '1,000 EUR (900–1,200)'
    """
    parts = []
    for one in cost:
        low, middle, high = (
            f"{value:,.0f}" for value in (one.amount.p10, one.amount.p50, one.amount.p90)
        )
        spread = "" if low == middle == high else f" ({low}–{high})"
        parts.append(f"{middle} {one.currency}{spread}")
    return " and ".join(parts)


def share_words(share: float) -> str:
    """A share of days to a whole per cent.

    >>> share_words(0.934)
    '93 %'
    """
    return f"{100 * share:.0f} %"


def figure_words(spread: Spread) -> str:
    """A figure with its spread, the spread left out where there is none to see.

    >>> figure_words(Spread(p10=8, p50=10, p90=12)), figure_words(Spread(p10=5, p50=5, p90=5))
    ('10 (8–12)', '5')
    """
    low, middle, high = (f"{value:,.0f}" for value in (spread.p10, spread.p50, spread.p90))
    return middle if low == middle == high else f"{middle} ({low}–{high})"


def share_spread_words(spread: Spread) -> str:
    """A share of days with its spread in per cent.

    >>> share_spread_words(Spread(p10=0.9, p50=0.93, p90=0.95))
    '93 % (90–95)'
    """
    low, middle, high = (f"{100 * value:.0f}" for value in (spread.p10, spread.p50, spread.p90))
    return f"{middle} %" if low == middle == high else f"{middle} % ({low}–{high})"


def plan_cells(plan: PlanFigures) -> tuple[str, ...]:
    """One plan's figures: cost, days in promise, hours, closings, product and water in litres."""
    return (
        money_words(plan.cost),
        share_spread_words(plan.share),
        figure_words(plan.hours),
        figure_words(plan.closings),
        figure_words(plan.product_l),
        figure_words(plan.water_l),
    )


def verdict_words(group: GroupCompared, way: Way) -> str:
    """Who wins in a group against one calendar, a dash with several currencies."""
    verdict = group.against(way).verdict
    return wording.NONE if verdict is None else verdict.value


def _listed(names: list[str]) -> str:
    return ", ".join(names)
