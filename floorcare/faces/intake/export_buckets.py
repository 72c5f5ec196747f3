"""Buckets of a counter: each once, a running total taken apart, their length, and their days."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes, Question
from floorcare.ground.wear.books.counts import DayCount

DAY_MINUTES = 1440
RISING_ROWS = 20
"""So many rows in a row that never fall look like a running total. Assumption."""


@dataclass(frozen=True, slots=True)
class Bucket:
    """One number: passes of a sensor from a moment on."""

    row: int
    on: date
    minute: int
    persons: float

    @property
    def at(self) -> int:
        """Minutes on one line."""
        return self.on.toordinal() * DAY_MINUTES + self.minute


Buckets = dict[str, list[Bucket]]


def once(buckets: Buckets, mapping: ExportMapping, notes: ExportNotes) -> tuple[Buckets, int]:
    """Buckets in order, each moment once; another number at one moment is asked about."""
    answer = mapping.get("answers", "repeats")
    repeated, kept = 0, {}
    for sensor, of in buckets.items():
        at: dict[int, Bucket] = {}
        for bucket in of:
            first = at.setdefault(bucket.at, bucket)
            if first is bucket:
                continue
            if first.persons == bucket.persons and answer != "add":
                repeated += 1
            elif answer == "last":
                at[bucket.at] = bucket
            elif answer == "add":
                at[bucket.at] = replace(first, persons=first.persons + bucket.persons)
            elif answer != "first":
                notes.ask(
                    Question("answers", "repeats", ("first", "last", "add")),
                    f"{sensor} has this moment already in row {first.row}, with {first.persons:g}",
                    row=bucket.row,
                    value=f"{bucket.persons:g}",
                )
        kept[sensor] = sorted(at.values(), key=lambda bucket: bucket.at)
    return kept, repeated


def apart(buckets: Buckets, mapping: ExportMapping, notes: ExportNotes) -> Buckets:
    """Buckets as numbers of their own, a running total taken apart."""
    numbers = mapping.get("counting", "numbers")
    if numbers == "running total":
        return {sensor: _differences(sensor, of, mapping, notes) for sensor, of in buckets.items()}
    if not numbers:
        for sensor, of in buckets.items():
            rising = all(a.persons <= b.persons for a, b in pairwise(of))
            if len(of) > RISING_ROWS and rising and of[-1].persons > of[0].persons:
                question = Question("counting", "numbers", ("each bucket", "running total"))
                problem = f"the numbers of {sensor} only rise: are they a running total?"
                notes.ask(question, problem, row=of[-1].row, value=f"{of[-1].persons:g}")
    return buckets


def _differences(
    sensor: str, of: Sequence[Bucket], mapping: ExportMapping, notes: ExportNotes
) -> list[Bucket]:
    found = []
    for before, bucket in pairwise(of):
        if bucket.persons >= before.persons:
            found.append(replace(before, persons=bucket.persons - before.persons))
        elif not mapping.get("answers", "negative"):
            question = Question("answers", "negative", ("leave out",))
            problem = f"the running total of {sensor} falls here, as after a reset"
            notes.ask(question, problem, row=bucket.row, value=f"{bucket.persons:g}")
    return found


def bucket_length(buckets: Buckets, mapping: ExportMapping, notes: ExportNotes) -> ExportMapping:
    """The mapping with the length of a bucket: what parts most of a sensor's rows."""
    told = mapping.get("counting", "bucket_minutes")
    if told:
        if not told.isdigit() or not 1 <= int(told) <= DAY_MINUTES or DAY_MINUTES % int(told):
            problem = "bucket_minutes must part a day into equal lengths"
            allowed = "1 to 1440, such as 15, 60 or 1440"
            notes.add("stops", notes.file, 0, problem, value=told, allowed=allowed)
        return mapping
    parting = Counter(b.at - a.at for of in buckets.values() for a, b in pairwise(of))
    if not parting:
        if any(buckets.values()):
            question = Question("counting", "bucket_minutes", (15, 60, 1440))
            notes.ask(question, "one row a sensor does not tell how long it counted")
        return mapping
    length = parting.most_common(1)[0][0]
    if length > DAY_MINUTES or DAY_MINUTES % length:
        question = Question("counting", "bucket_minutes", (15, 60, 1440))
        problem = f"rows mostly lie {length} minutes apart, which parts no day into equal lengths"
        notes.ask(question, problem)
        return mapping
    return mapping.with_("counting", "bucket_minutes", length)


def days_of(buckets: Iterable[Bucket]) -> list[DayCount]:
    """What was counted day by day, in order."""
    of: defaultdict[date, list[Bucket]] = defaultdict(list)
    for bucket in buckets:
        of[bucket.on].append(bucket)
    return [
        DayCount(
            on=on,
            persons=sum(bucket.persons for bucket in day),
            buckets=len(day),
            one_number=len({bucket.persons for bucket in day}) == 1,
            row=min(bucket.row for bucket in day),
        )
        for on, day in sorted(of.items())
    ]
