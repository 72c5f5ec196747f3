"""What `learn` says: by surface and class how fast floors wear, how honest bands were, how noisy
readings are."""

from collections.abc import Mapping
from math import sqrt

from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.faces.documents.wording import count
from floorcare.ground.rules.reasons import said
from floorcare.services.learn_wear import ClassLearned, SurfaceLearned, WearLearned

MONTH_DAYS = 30
"""Walks are told over so many days: a day's step says nothing to anybody."""

NOISE_WORDS: Mapping[str, tuple[str, int]] = {
    "first_reading_sd": ("a zone's first reading", 1),
    "instrument_sd": ("a meter", 1),
    "station_sd": ("a station", 1),
    "drift_sd": (f"drift over {MONTH_DAYS} days", MONTH_DAYS),
    "shock_sd": (f"chance scuffs over {MONTH_DAYS} days", MONTH_DAYS),
    "day_sd": ("a single day", 1),
}
"""Each error's name, and over how many days it is told."""

MEANING = (
    "haze, wear: how many times as fast as the surface's own rates a zone of the class gains haze, "
    "and loses film",
    "and finish; nine in ten of its zones lie in the range.",
    "in 90 % band: recent readings that were hidden and forecast, and how many of them fell inside "
    "the band; bands:",
    "the factor that makes today's bands honest.",
)


def learned_said(answer: WearLearned) -> str:
    """Which version there is now, and what every surface taught."""
    if not answer.surfaces:
        return NO_BRANCH
    lines = list(_head(answer))
    for surface in answer.surfaces:
        lines += ["", *_surface(surface)]
    return "\n".join([*lines, "", *MEANING])


def _head(answer: WearLearned) -> tuple[str, ...]:
    zones = sum(surface.zones for surface in answer.surfaces)
    read = sum(c.zones_read for surface in answer.surfaces for c in surface.classes)
    behind = f"{count(zones, 'zone')}, {read:,} with readings to learn from"
    on = said(answer.learned_on) if answer.learned_on else ""
    if answer.same:
        return (
            f"Nothing new: what {behind}, show is version {answer.number}, learned on {on}.",
            "Nothing was written; plans go on reading it.",
        )
    if not answer.written:
        return (
            f"Dry run: what {behind}, show would be version {answer.number}.",
            f"Nothing was written; plans read {_standing(answer)}.",
        )
    return (
        f"Version {answer.number}, learned on {on} from {behind}.",
        "Every plan reads it from now on, and no plan changes it; "
        "next: floorcare plan --dry-run shows what it moves.",
    )


def _standing(answer: WearLearned) -> str:
    return f"version {answer.before}" if answer.before else "the surface files' own figures"


def _surface(surface: SurfaceLearned) -> list[str]:
    lines = [
        f"{surface.name}: {count(surface.zones, 'zone')}",
        f"  {'traffic, footfall':20}{'zones read':>17}{'haze':>9}{'9 in 10 zones':>16}{'wear':>9}"
        f"{'9 in 10 zones':>16}{'in 90 % band':>16}{'bands':>9}",
    ]
    lines += [_class(c) for c in surface.classes if c.zones_there]
    empty = sum(1 for c in surface.classes if not c.zones_there)
    if empty:
        lines.append(f"  and {count(empty, 'class', 'classes')} without a zone (--json)")
    lines.append(f"  {'errors, share of the gloss':34}{'learned':>9}{'file':>9}")
    for noise in surface.noise:
        words, days = NOISE_WORDS[noise.name]
        learned, own = noise.learned * sqrt(days), noise.own * sqrt(days)
        lines.append(f"  {words:34}{f'{learned:.1%}':>9}{f'{own:.1%}':>9}")
    return lines


def _class(one: ClassLearned) -> str:
    footfall = "counted" if one.counted else "by level"
    inside = f"{one.inside:.0%} of {one.hidden:,}" if one.inside is not None else "–"
    return (
        f"  {f'{one.traffic}, {footfall}':20}"
        f"{f'{one.zones_read:,} of {one.zones_there:,}':>17}"
        f"{f'{one.haze_times:.2f} ×':>9}{f'{one.haze_low:.1f} to {one.haze_high:.1f}':>16}"
        f"{f'{one.wear_times:.2f} ×':>9}{f'{one.wear_low:.1f} to {one.wear_high:.1f}':>16}"
        f"{inside:>16}{f'{one.band_scale:.2f} ×':>9}"
    )
