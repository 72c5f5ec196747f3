"""Cost against days in promise as one SVG: a mark with spread bars a plan, a panel a currency."""

from dataclasses import dataclass
from math import ceil, floor, log10

from floorcare.faces.documents import compare_words
from floorcare.faces.documents.drawing import Sheet, text_width, wrapped
from floorcare.faces.documents.pages import TEMPLATES
from floorcare.ground.schedule.comparison.account import GroupCompared, PlanFigures
from floorcare.ground.schedule.comparison.compare import Way
from floorcare.services.compare_plans import PlansCompared

WIDTH, EDGE = 520.0, 8.0
LEFT, RIGHT, PLOT_HEIGHT, AXIS_HEIGHT = 52.0, 500.0, 190.0, 46.0
HEAD, LABEL = 13.0, 10.5
HEAD_WIDTH = 440.0
LEAST_SPAN = 0.10
"""Days in promise are never drawn on less than ten points of a hundred."""
STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
MARKS = {Way.WEAR: "wear", Way.AGREED: "agreed", Way.HINDSIGHT: "hindsight"}


def write_compare_svg(compared: PlansCompared) -> bytes:
    """The picture with its answer as SVG in UTF-8; the same comparison gives the same bytes."""
    return picture(compared, headed=True)


def picture(compared: PlansCompared, *, headed: bool) -> bytes:
    """The picture; a page that has told the answer shows it without a head of its own."""
    sheet = Sheet()
    y = EDGE
    for line in wrapped(compare_words.answer(compared), HEAD_WIDTH, HEAD) if headed else ():
        y += HEAD + 4
        sheet.text(EDGE, y, line, "head")
    for group in _panels(compared):
        y = _panel(sheet, group, y + 16)
    y = _key(sheet, y + 6)
    told = (line.strip() for line in compare_words.sentences(compared))
    return sheet.svg(
        WIDTH,
        y + EDGE,
        style=(TEMPLATES / "compare_picture.css").read_text(encoding="utf-8"),
        title="Cost against days in promise",
        description=" ".join([compare_words.answer(compared), *told]),
    )


def _panels(compared: PlansCompared) -> tuple[GroupCompared, ...]:
    """One panel of everything, or one a currency where there are several."""
    return compare_words.groups(compared, "currency") or compared.groups[:1]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """Where cost and share lie on a panel."""

    top: float
    most: float
    low: float
    high: float

    @property
    def bottom(self) -> float:
        return self.top + PLOT_HEIGHT

    def x(self, cost: float) -> float:
        return LEFT + min(1.0, max(0.0, cost / self.most)) * (RIGHT - LEFT)

    def y(self, share: float) -> float:
        inside = min(self.high, max(self.low, share))
        return self.bottom - (inside - self.low) / (self.high - self.low) * PLOT_HEIGHT


def _panel(sheet: Sheet, group: GroupCompared, top: float) -> float:
    """One panel; returns where it ends."""
    currency = group.plans[0].cost[0].currency
    sheet.text(EDGE, top, f"days in promise, {group.zones} zones paid in {currency}", "note")
    frame = _framed(group, top + 12)
    _grid(sheet, frame, currency)
    taken: list[tuple[float, float, float]] = []
    for plan in group.plans:
        _mark(sheet, frame, plan)
    for plan in group.plans:
        _label(sheet, frame, plan, taken)
    return frame.bottom + AXIS_HEIGHT


def _framed(group: GroupCompared, top: float) -> _Frame:
    costs = [plan.cost[0].amount.p90 for plan in group.plans]
    shares = [s for plan in group.plans for s in (plan.share.p10, plan.share.p90)]
    low = floor(min(shares) * 20 - 0.2) / 20
    high = min(1.0, ceil(max(shares) * 20 + 0.2) / 20)
    low = max(0.0, min(low, high - LEAST_SPAN))
    return _Frame(top=top, most=max(1.0, 1.08 * max(costs)), low=low, high=high)


def _grid(sheet: Sheet, frame: _Frame, currency: str) -> None:
    step = 0.05 if frame.high - frame.low <= 0.4 else 0.2
    for tick in range(ceil(frame.low / step - 1e-9), floor(frame.high / step + 1e-9) + 1):
        y = frame.y(tick * step)
        sheet.line(LEFT, y, RIGHT, y, "hair")
        sheet.text(LEFT - 6, y + 3.5, compare_words.share_words(tick * step), "end")
    sheet.line(LEFT, frame.bottom, RIGHT, frame.bottom, "axis")
    every = _step(frame.most)
    for tick in range(int(frame.most / every) + 1):
        x = frame.x(tick * every)
        sheet.line(x, frame.bottom, x, frame.bottom + 4, "axis")
        sheet.text(x, frame.bottom + 15, f"{tick * every:,.0f}", "mid")
    sheet.text(RIGHT, frame.bottom + 28, f"cost in {currency}", "note end")


def _step(most: float) -> float:
    """Distance of cost ticks: four to eight of them, round numbers."""
    size = 10.0 ** floor(log10(most / 5.0))
    return next(size * step for step in STEPS if most / (size * step) <= 6.0)


def _mark(sheet: Sheet, frame: _Frame, plan: PlanFigures) -> None:
    """Bars from one future in ten to nine in ten, the middle as the plan's own mark."""
    cost, share, style = plan.cost[0].amount, plan.share, MARKS[plan.way]
    x, y = frame.x(cost.p50), frame.y(share.p50)
    sheet.line(frame.x(cost.p10), y, frame.x(cost.p90), y, style)
    sheet.line(x, frame.y(share.p10), x, frame.y(share.p90), style)
    if plan.way is Way.HINDSIGHT:
        sheet.rect(x - 4, y - 4, 8, 8, "hollow")
    else:
        sheet.circle(x, y, 4.5, "full" if plan.way is Way.WEAR else "hollow")


def _label(
    sheet: Sheet, frame: _Frame, plan: PlanFigures, taken: list[tuple[float, float, float]]
) -> None:
    """The plan's name beside its mark, below or above where another name stands already."""
    words = plan.way.value
    width, mark = text_width(words, LABEL), frame.x(plan.cost[0].amount.p50)
    x = mark + 9 if mark + 9 + width <= RIGHT else mark - 9 - width
    near = frame.y(plan.share.p50)
    places = [near - 9, near + 17, near - 22, near + 30]
    y = next((p for p in places if all(_free(x, p, width, one) for one in taken)), places[0])
    taken.append((x, y, width))
    style = "halo plum" if plan.way is Way.WEAR else "halo"
    if x < mark:
        sheet.text(mark - 9, y, words, f"{style} end")
    else:
        sheet.text(x, y, words, style)


def _free(x: float, y: float, width: float, other: tuple[float, float, float]) -> bool:
    left, line, wide = other
    return x > left + wide or x + width < left or abs(y - line) > LABEL + 1


def _key(sheet: Sheet, top: float) -> float:
    """What the marks mean, in words."""
    keys = (
        (Way.WEAR, "solid bars, full mark"),
        (Way.AGREED, "dashed bars, ring"),
        (Way.HINDSIGHT, "dotted bars, square"),
    )
    y = top
    for way, words in keys:
        sheet.line(EDGE, y - 3.5, EDGE + 30, y - 3.5, MARKS[way])
        sheet.text(EDGE + 38, y, f"{way.value}: {words}", "note")
        y += 13
    sheet.text(
        EDGE, y, "Marks are the middle future; bars run from one in ten to nine in ten.", "note"
    )
    return y
