"""A zone's gloss over time as a printed timetable graphic: one SVG that stands by itself.

Readings are dots, the forecast a band, the promise a dashed line; work stands in rows below the
axis. What is said by tone is said by line style and words too.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, floor

from floorcare.faces.documents import wording
from floorcare.faces.documents.drawing import (
    Point,
    Sheet,
    area_path,
    line_path,
    number,
    text_width,
    wrapped,
)
from floorcare.faces.documents.pages import TEMPLATES
from floorcare.faces.documents.zone_chart_words import (
    answer,
    cut,
    description,
    name,
    rhythm_words,
    title,
)
from floorcare.ground.schedule.course import (
    CourseReading,
    CourseRhythm,
    CourseTick,
    ZoneCourse,
)
from floorcare.ground.trade.treatment import TREATMENTS, Work
from floorcare.services.sheets import ZoneChart

WIDTH, EDGE = 400.0, 6.0
PLOT_HEIGHT, AXIS_HEIGHT, ROW_HEIGHT, TICK_HEIGHT = 150.0, 30.0, 14.0, 8.0
HEAD, LABEL, SMALL = 13.5, 10.5, 9.5
LEAST_LABELS_APART = 31.0
GRID_STEP_GU, LEAST_SPAN_GU = 5.0, 15.0
WEEK = 7


def write_zone_chart(chart: ZoneChart) -> bytes:
    """The chart as SVG in UTF-8; the same chart gives the same bytes."""
    sheet = Sheet()
    frame = _framed(chart.course, _head(sheet, chart) + 20)
    _grid(sheet, frame)
    _gloss(sheet, frame)
    _today(sheet, frame)
    _months(sheet, frame)
    _rows(sheet, frame)
    bottom = _key(sheet, frame, frame.rows_end + 16)
    return sheet.svg(
        WIDTH,
        bottom + EDGE,
        style=(TEMPLATES / "zone_chart.css").read_text(encoding="utf-8"),
        title=title(chart),
        description=description(chart),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """Where days and gloss lie on the sheet; no scale where there is no gloss to draw."""

    course: ZoneCourse
    upright_on: tuple[date, ...]
    works: tuple[Work, ...]
    left: float
    right: float
    top: float
    bottom: float
    low_gu: float
    high_gu: float

    @property
    def has_scale(self) -> bool:
        return self.high_gu > self.low_gu

    @property
    def rows_end(self) -> float:
        """Where the last row of work ends; one row's room where there is none."""
        return self.bottom + AXIS_HEIGHT + ROW_HEIGHT * max(1, len(self.works))

    def x(self, on: date) -> float:
        """Where a day lies, held inside the frame."""
        days = (self.course.last_on - self.course.first_on).days
        share = (on - self.course.first_on).days / days
        return self.left + min(1.0, max(0.0, share)) * (self.right - self.left)

    def y(self, gloss_gu: float) -> float:
        """Where a gloss lies, held inside the frame."""
        inside = min(self.high_gu, max(self.low_gu, gloss_gu))
        share = (inside - self.low_gu) / (self.high_gu - self.low_gu)
        return self.bottom - share * (self.bottom - self.top)

    def run(self, first: date, glosses: Sequence[float]) -> list[Point]:
        """A gloss a day from a first day on, as it is drawn.

        Once a week, which leaves out what a burnish a week or oftener does, and upright where a
        treatment was or will be complete.
        """
        count = len(glosses)
        done = {(on - first).days for on in self.upright_on} & set(range(count))
        weekly = range((self.course.today - first).days % WEEK, count, WEEK)
        points: list[Point] = []
        for day in sorted({0, count - 1, *weekly, *done}):
            x, y = self.x(date.fromordinal(first.toordinal() + day)), self.y(glosses[day])
            if day in done and points:
                points.append((x, points[-1][1]))
            points.append((x, y))
        return points


def _upright_on(course: ZoneCourse) -> list[date]:
    """Nights on which the gloss is drawn to leap: the hardest work of each week."""
    kept: list[date] = []
    for tick in sorted(course.ticks, key=lambda t: (-TREATMENTS.index(t.work), t.on)):
        if tick.completes and all(abs((tick.on - on).days) >= WEEK for on in kept):
            kept.append(tick.on)
    return kept


def _framed(course: ZoneCourse, top: float) -> _Frame:
    works = _works(course)
    low_gu, high_gu = _ends(course)
    widest = max((text_width(work.value, LABEL) for work in works), default=0.0)
    return _Frame(
        course=course,
        upright_on=tuple(_upright_on(course)),
        works=works,
        left=EDGE + max(24.0, widest + 4),
        right=WIDTH - EDGE,
        top=top,
        bottom=top + (PLOT_HEIGHT if high_gu > low_gu else 14.0),
        low_gu=low_gu,
        high_gu=high_gu,
    )


def _works(course: ZoneCourse) -> tuple[Work, ...]:
    """The kinds of work that have a row, hardest first."""
    shown = {tick.work for tick in course.ticks} | {rhythm.work for rhythm in course.rhythms}
    return tuple(sorted(shown, key=TREATMENTS.index, reverse=True))


def _ends(course: ZoneCourse) -> tuple[float, float]:
    drawn = [r.gloss_gu for r in course.readings if not r.gross]
    drawn += [*course.past_gu, *course.median_gu]
    drawn += [gu for band in course.bands for gu in (*band.low_gu, *band.high_gu)]
    drawn += [gu for gu in (course.promise_gu, course.reference_gu) if gu is not None]
    if not drawn:
        return 0.0, 0.0
    low, high = min(drawn), max(drawn)
    # a reading that fits nothing is drawn if it lies near; it must not squeeze all others
    near = [r.gloss_gu for r in course.readings if low - 10 <= r.gloss_gu <= high + 10]
    low, high = min([low, *near]) - 1.0, max([high, *near]) + 1.0
    wanting = max(0.0, LEAST_SPAN_GU - (high - low)) / 2
    step = GRID_STEP_GU
    return max(0.0, step * floor((low - wanting) / step)), step * ceil((high + wanting) / step)


def _head(sheet: Sheet, chart: ZoneChart) -> float:
    """Zone, name and answer; gives the line they end on."""
    y = 16.0
    zone, spoken = cut(chart.row.zone), name(chart.row)
    sheet.text(EDGE, y, zone, "head")
    if text_width(zone, HEAD) + text_width(spoken, LABEL) + 12 <= WIDTH - 2 * EDGE:
        sheet.text(WIDTH - EDGE, y, spoken, "end")
    else:
        for line in wrapped(spoken, WIDTH - 2 * EDGE, LABEL):
            y += 13
            sheet.text(EDGE, y, line)
    for line in wrapped(answer(chart.row), WIDTH - 2 * EDGE, LABEL):
        y += 13
        sheet.text(EDGE, y, line)
    return y


def _grid(sheet: Sheet, frame: _Frame) -> None:
    if frame.has_scale:
        step = GRID_STEP_GU if frame.high_gu - frame.low_gu <= 30 else 2 * GRID_STEP_GU
        gu = step * ceil(frame.low_gu / step)
        while gu <= frame.high_gu:
            y = frame.y(gu)
            sheet.line(frame.left, y, frame.right, y, "hair")
            sheet.text(frame.left - 4, y + 3, f"{gu:.0f}", "small end")
            gu += step
        sheet.text(frame.left - 4, frame.top - 6, "GU", "small end")
    else:
        words = "not read yet, no gloss promised"
        sheet.text(frame.left + 4, frame.bottom - 4, words, "small halo")


def _gloss(sheet: Sheet, frame: _Frame) -> None:
    """Band, estimate, promise, readings, in the order they lie on one another."""
    course = frame.course
    for band in reversed(course.bands):
        high, low = frame.run(course.today, band.high_gu), frame.run(course.today, band.low_gu)
        sheet.path(area_path(high, low), f"b{100 * band.level:.0f}")
    if course.past_gu:
        sheet.path(line_path(frame.run(course.past_from, course.past_gu)), "gloss")
        sheet.path(line_path(frame.run(course.today, course.median_gu)), "ahead")
    elif frame.has_scale:
        words = "not read yet: runs on its own rhythm and caps"
        sheet.text(frame.left + 4, frame.top + 12, words, "small halo")
    _promise(sheet, frame)
    for reading in course.readings:
        _reading(sheet, frame, reading)


def _promise(sheet: Sheet, frame: _Frame) -> None:
    course = frame.course
    starts = frame.x(course.promised_from or course.first_on)
    ends = frame.x(course.promised_to or course.last_on)
    # the reference is named above its line and the promise below, away from the gloss between them
    lines = (
        ("reference", course.reference_gu, "reference", -3.0),
        ("promise", course.promise_gu, "promised", 10.0),
    )
    for style, gloss_gu, word, below in lines:
        if gloss_gu is not None:
            y = frame.y(gloss_gu)
            sheet.line(starts, y, ends, y, style)
            sheet.text(starts + 3, y + below, f"{word} {gloss_gu:.0f} GU", "small plum halo")


def _reading(sheet: Sheet, frame: _Frame, reading: CourseReading) -> None:
    x, y = frame.x(reading.on), frame.y(reading.gloss_gu)
    if reading.gross:
        _crossed(sheet, x, y)
        if not frame.low_gu <= reading.gloss_gu <= frame.high_gu:
            sheet.text(x + 6, y + 3, f"{reading.gloss_gu:.0f} GU", "small halo")
    elif reading.state is frame.course.state:
        sheet.circle(x, y, 2.8, "dot")
    else:
        sheet.circle(x, y, 2.3, "ring")


def _crossed(sheet: Sheet, x: float, y: float) -> None:
    sheet.circle(x, y, 3.2, "ring")
    sheet.path(f"M{number(x - 2)} {number(y - 2)}l4 4m0-4l-4 4", "cross")


def _months(sheet: Sheet, frame: _Frame) -> None:
    """Month ticks under the plot, so many of them named as have room."""
    y = frame.bottom
    sheet.line(frame.left, y, frame.right, y, "axis")
    firsts = _first_days(frame.course.first_on, frame.course.last_on)
    apart = (frame.right - frame.left) / max(1, len(firsts))
    every = next(n for n in (1, 2, 3, 4, 6, 12) if n * apart >= LEAST_LABELS_APART or n == 12)
    named_year = 0
    for first in firsts:
        x = frame.x(first)
        named = (first.month - 1) % every == 0 and x + 10 <= frame.right
        sheet.line(x, y, x, y + (5 if named else 3), "axis")
        if named:
            sheet.text(x, y + 14, wording.MONTHS[first.month - 1][:3], "small mid halo")
            if first.year != named_year:
                sheet.text(x, y + 24, str(first.year), "small mid halo")
                named_year = first.year


def _first_days(first_on: date, last_on: date) -> list[date]:
    months = range(first_on.year * 12 + first_on.month, last_on.year * 12 + last_on.month + 1)
    days = [date((m - 1) // 12, (m - 1) % 12 + 1, 1) for m in months]
    return [day for day in days if first_on <= day <= last_on]


def _rows(sheet: Sheet, frame: _Frame) -> None:
    """A row for each kind of work."""
    y = frame.bottom + AXIS_HEIGHT
    if not frame.works:
        sheet.text(frame.left + 4, y + 9, "no work done in this time, none planned", "small halo")
    for work in frame.works:
        middle = y + ROW_HEIGHT / 2
        sheet.text(frame.left - 4, middle + 3.5, work.value, "end")
        sheet.line(frame.left, middle, frame.right, middle, "hair")
        for rhythm in frame.course.rhythms:
            if rhythm.work is work:
                _rhythm(sheet, frame, rhythm, middle)
        ticks = [tick for tick in frame.course.ticks if tick.work is work]
        _ticks(sheet, frame, ticks, middle)
        _next_night(sheet, frame, ticks, middle)
        y += ROW_HEIGHT


def _rhythm(sheet: Sheet, frame: _Frame, rhythm: CourseRhythm, y: float) -> None:
    """A routine as a row of points, one for each time it comes."""
    course = frame.course
    starts = frame.x(max(rhythm.from_on, course.first_on))
    ends = frame.x(min(rhythm.to_on or course.last_on, course.last_on))
    if ends <= starts:
        return
    apart = rhythm.every_days * (frame.right - frame.left) / (course.last_on - course.first_on).days
    sheet.line(starts, y, ends, y, "rhythm", dash=f"0.8 {number(max(1.6, apart) - 0.8)}")
    sheet.text(starts + 3, y + 3.2, rhythm_words(rhythm.every_days), "small halo")


def _ticks(sheet: Sheet, frame: _Frame, ticks: Sequence[CourseTick], y: float) -> None:
    """A row's treatments, all of one style as one mark; a part of one stands half as tall."""
    ways: dict[str, str] = {"done": "", "about": "", "planned": ""}
    for tick in ticks:
        x, half = frame.x(tick.on), TICK_HEIGHT / (2 if tick.completes else 4)
        style = "planned" if tick.planned else "about" if tick.about else "done"
        ways[style] += _upright(x, y, half) if not tick.planned else _hollow(x, y, half)
    for style, way in ways.items():
        sheet.path(way, style)


def _upright(x: float, y: float, half: float) -> str:
    return f"M{number(x)} {number(y - half)}v{number(2 * half)}"


def _hollow(x: float, y: float, half: float) -> str:
    return f"M{number(x - 1.6)} {number(y - half)}h3.2v{number(2 * half)}h-3.2z"


def _next_night(sheet: Sheet, frame: _Frame, ticks: Sequence[CourseTick], y: float) -> None:
    """The date of the row's next planned night, where it has room beside its tick."""
    planned = [tick for tick in ticks if tick.planned]
    if not planned:
        return
    words = f"{planned[0].on.day} {wording.MONTHS[planned[0].on.month - 1][:3]}"
    x, wide = frame.x(planned[0].on), text_width(words, SMALL)
    later = [frame.x(tick.on) for tick in planned[1:]]
    if x + 5 + wide <= min([frame.right, *(tick - 3 for tick in later)]):
        sheet.text(x + 4, y + 3.2, words, "small halo")
    else:
        sheet.text(x - 4, y + 3.2, words, "small end halo")


def _today(sheet: Sheet, frame: _Frame) -> None:
    x = frame.x(frame.course.today)
    sheet.line(x, frame.top - 3, x, frame.rows_end, "today")
    on = frame.course.today
    words = f"today, {on.day} {wording.MONTHS[on.month - 1]} {on.year}"
    sheet.text(x, frame.top - 6, words, "small mid")


def _key(sheet: Sheet, frame: _Frame, y: float) -> float:
    """What each mark means, of those that are there; gives the line it ends on."""
    x = EDGE
    for style, wide, words in _marks(frame.course):
        room = wide + 4 + text_width(words, SMALL)
        if x > EDGE and x + room > WIDTH - EDGE:
            x, y = EDGE, y + 13
        _sample(sheet, style, x, y - 3.2, wide)
        sheet.text(x + wide + 4, y, words, "small")
        x += room + 10
    return y


def _marks(course: ZoneCourse) -> list[tuple[str, float, str]]:
    """(style, width of the sample, words) of every kind of mark on the chart."""
    good = [reading for reading in course.readings if not reading.gross]
    other = next((r.state.value for r in good if r.state is not course.state), "")
    marks = [
        ("dot", 6.0, f"read {course.state.value}", any(r.state is course.state for r in good)),
        ("ring", 6.0, f"read {other}", bool(other)),
        ("crossed", 7.0, "does not fit the others", len(good) < len(course.readings)),
        ("gloss", 14.0, f"estimate {course.state.value}", bool(course.past_gu)),
        ("band", 20.0, "5, 8 and 9 in 10 futures", bool(course.bands)),
        ("done", 3.0, "done", any(not t.planned and not t.about for t in course.ticks)),
        ("about", 3.0, "done about then", any(t.about for t in course.ticks)),
        ("planned", 4.0, "planned", any(t.planned for t in course.ticks)),
        (
            "part",
            4.0,
            "half as tall: a part of the zone",
            not all(t.completes for t in course.ticks),
        ),
    ]
    return [(style, wide, words) for style, wide, words, there in marks if there]


def _sample(sheet: Sheet, style: str, x: float, y: float, wide: float) -> None:
    middle, half = x + wide / 2, TICK_HEIGHT / 2
    if style == "dot":
        sheet.circle(middle, y, 2.8, style)
    elif style == "ring":
        sheet.circle(middle, y, 2.3, style)
    elif style == "crossed":
        _crossed(sheet, middle, y)
    elif style == "gloss":
        sheet.line(x, y, x + wide, y, style)
    elif style == "band":
        for level, tall in (("b90", 10.0), ("b80", 7.0), ("b50", 4.0)):
            sheet.rect(x, y - tall / 2, wide, tall, level)
    elif style == "part":
        sheet.path(_upright(middle, y, half / 2), "done")
    elif style == "planned":
        sheet.path(_hollow(middle, y, half), style)
    else:
        sheet.path(_upright(middle, y, half), style)
