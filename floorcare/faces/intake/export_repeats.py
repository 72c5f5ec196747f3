"""Values that stand more than once in one export, for one place and moment."""

from collections.abc import Sequence
from dataclasses import replace
from statistics import fmean
from typing import Any

from floorcare.faces.intake.export_mapping import ExportMapping, ExportNotes, Question
from floorcare.services.record_readings import TypedReading


def settle_repeats(
    typed: Sequence[TypedReading], mapping: ExportMapping, notes: ExportNotes
) -> tuple[list[TypedReading], int]:
    """Each reading once, and how many repeat another; another value at one moment is asked about.

    The mapping's answer takes the mean of them, the first or the last.
    """
    together: dict[tuple[Any, ...], list[TypedReading]] = {}
    for one in typed:
        r = one.reading
        when = (r.taken_on, r.taken_minute)
        what = (r.measure, r.geometry_deg, r.instrument, r.state)
        together.setdefault((one.site, r.zone, r.station, *when, *what), []).append(one)
    answer = mapping.get("answers", "repeats")
    kept, repeated = [], 0
    for group in together.values():
        first = group[0]
        same = sum(1 for one in group[1:] if one.reading.value == first.reading.value)
        other = next((o for o in group if o.reading.value != first.reading.value), None)
        if other is None or answer != "mean":
            repeated += same
        if other is None or answer == "first":
            kept.append(first)
        elif answer == "last":
            kept.append(group[-1])
        elif answer == "mean":
            value = round(fmean(one.reading.value for one in group), 4)
            kept.append(replace(first, reading=replace(first.reading, value=value)))
        else:
            notes.ask(
                Question("answers", "repeats", ("mean", "first", "last")),
                f"{first.place} was read at the same minute in row {first.row}, with "
                f"{first.reading.value:g}",
                row=other.row,
                column=other.column,
                value=f"{other.reading.value:g}",
            )
    return kept, repeated
