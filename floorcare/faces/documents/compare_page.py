"""Measured wear against the fixed calendar: one page to read, CSV to reckon with."""

from collections.abc import Iterator

from floorcare.faces.documents import compare_words, wording
from floorcare.faces.documents.cells import Row, csv_bytes
from floorcare.faces.documents.compare_picture import picture
from floorcare.faces.documents.pages import page
from floorcare.ground.schedule.comparison.account import GroupCompared, PlanFigures, Spread
from floorcare.ground.schedule.comparison.compare import Way
from floorcare.services.compare_plans import PlansCompared

MEASURES = ("cost", "hours", "closings", "product L", "water L", "share of days in promise")


def write_compare_html(compared: PlansCompared) -> bytes:
    """The comparison as one self-contained HTML page with its picture, without scripts."""
    every = compare_words.whole(compared)
    words = {
        "title": f"Measured wear against the calendar, {wording.day_words(compared.today)}",
        "day": wording.day_words(compared.today),
        "answer": compare_words.answer(compared),
        "sentences": [line.strip() for line in compare_words.sentences(compared)],
        "picture": picture(compared, headed=False).decode("utf-8") if every else "",
        "plans": [_plan(plan) for plan in every.plans] if every else [],
        "tables": [
            {"heading": f"by {kind}", "first": kind, "rows": [_words(g) for g in found]}
            for kind in compare_words.kinds_told(compared)
            if (found := compare_words.groups(compared, kind))
        ],
        "meaning": compare_words.MEANING,
    }
    return page("compare.html", compared=words)


def write_compare_csv(compared: PlansCompared) -> bytes:
    """Every group under every plan, one line each; a group of several currencies one a currency."""
    header = (
        *("group", "name", "zones", "plan", "currency"),
        *(f"{measure} {p}" for measure in MEASURES for p in ("P10", "P50", "P90")),
        *("against measured wear costs more P50", "against keeps more P50"),
        *("against measured wear costs less in", "verdict"),
    )
    rows = (row for group in compared.groups for plan in group.plans for row in _rows(group, plan))
    return csv_bytes(header, rows)


def _plan(plan: PlanFigures) -> dict[str, object]:
    _, *figures = compare_words.plan_cells(plan)
    costs = [compare_words.money_words((cost,)) for cost in plan.cost]
    return {"name": plan.way.value, "costs": costs, "figures": figures}


def _words(group: GroupCompared) -> dict[str, object]:
    return {
        "name": group.name,
        "zones": f"{group.zones:,}",
        "costs": [compare_words.money_words(plan.cost) for plan in group.plans],
        "shares": [f"{100 * plan.share.p50:.0f}" for plan in group.plans],
        "closings": [f"{plan.closings.p50:,.0f}" for plan in group.plans],
        "agreed": compare_words.verdict_words(group, Way.AGREED),
        "hindsight": compare_words.verdict_words(group, Way.HINDSIGHT),
    }


def _rows(group: GroupCompared, plan: PlanFigures) -> Iterator[Row]:
    for cost in plan.cost:
        measures = (plan.hours, plan.closings, plan.product_l, plan.water_l)
        yield (
            *(group.kind, group.name, group.zones, plan.way.value, cost.currency),
            *_figures(cost.amount, 2),
            *(figure for spread in measures for figure in _figures(spread, 1)),
            *_figures(plan.share, 4),
            *_against(group, plan),
        )


def _figures(spread: Spread, digits: int) -> tuple[float, float, float]:
    return (round(spread.p10, digits), round(spread.p50, digits), round(spread.p90, digits))


def _against(group: GroupCompared, plan: PlanFigures) -> Row:
    if plan.way is Way.WEAR:
        return (None,) * 4
    versus = group.against(plan.way)
    return (
        None if versus.cost_more is None else round(versus.cost_more.p50, 2),
        round(versus.share_more.p50, 4),
        None if versus.cheaper_in is None else round(versus.cheaper_in, 3),
        None if versus.verdict is None else versus.verdict.value,
    )
