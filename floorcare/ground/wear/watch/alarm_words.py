"""Alarms in a planner's words: what shows, the question it asks, and what to do."""

from dataclasses import replace

from floorcare.ground.trade.treatment import Work
from floorcare.ground.wear.watch.alarm import Alarm, AlarmKind

NAMED_ZONES = 3
"""Zones of an instrument's alarm that are named, the rest counted."""


def said(alarm: Alarm, *, counted: bool = False, grows: bool = False) -> Alarm:
    """The alarm with its three sentences.

    Parameters
    ----------
    counted : the zone's footfall is counted.
    grows : an instrument's offset grows from the day it began.

    Assumption: wording.
    """
    if alarm.kind is AlarmKind.INSTRUMENT:
        says, asks, mend = _of_instrument(alarm, grows)
    elif alarm.kind is AlarmKind.TREATMENT:
        says, asks, mend = _of_treatment(alarm)
    else:
        says, asks, mend = _of_traffic(alarm, counted)
    return replace(alarm, says=says, asks=asks, mend=mend)


def _of_traffic(alarm: Alarm, counted: bool) -> tuple[str, str, str]:
    faster = alarm.seen < alarm.expected
    says = (
        f"{alarm.zones[0]} wears {'faster' if faster else 'more slowly'} than its rates say since"
        f" about {alarm.since}: {_gloss(alarm)}."
    )
    count = "look at its counter" if counted else "count its footfall for a week"
    if faster:
        return (
            says,
            "Is it walked more, or differently, or is less done there than recorded?",
            f"Ask the site, {count}, and read it again.",
        )
    return (
        says,
        "Is it walked less, or was work done there that nobody recorded?",
        f"Ask the site, {count}, and enter what was done.",
    )


def _of_treatment(alarm: Alarm) -> tuple[str, str, str]:
    if alarm.done_by or alarm.work != Work.BURNISH.value:
        by = f" by {alarm.done_by}" if alarm.done_by else ""
        says = (
            f"{alarm.zones[0]} reads as if its {alarm.work} of {alarm.since}{by} had done little:"
            f" {_gloss(alarm)}."
        )
        return (
            says,
            "Was it done on the whole zone, with the right pads and coat, and did it dry?",
            "Ask the crew, look at the floor, and read it again; correct the record if it was not"
            " done.",
        )
    return (
        f"{alarm.zones[0]} reads as if its burnish did only part of its work since about"
        f" {alarm.since}: {_gloss(alarm)}.",
        "Is it done as often as recorded, with good pads and at full speed, or is the zone walked"
        " more?",
        "Go with the round once, read before and after it, and enter what is missed.",
    )


def _of_instrument(alarm: Alarm, grows: bool) -> tuple[str, str, str]:
    off = abs(alarm.seen - alarm.expected)
    way = "low" if alarm.seen < alarm.expected else "high"
    named = ", ".join(alarm.zones[:NAMED_ZONES])
    more = len(alarm.zones) - NAMED_ZONES
    where = f"{named} and {more:,} more" if more > 0 else named
    name = f"Meter {alarm.instrument}" if alarm.instrument else "The meter nobody named"
    how = "more and more " if grows else ""
    others = " and ".join(code or "the meter nobody named" for code in alarm.against)
    against = f" against {others}" if others else ""
    return (
        f"{name} reads {how}{way}{against} since about {alarm.since}, on average {off:.1f} GU"
        f" ({abs(alarm.strength):.1f} errors), in {len(alarm.zones):,} zones: {where}.",
        f"Is it {others} that is off, or this one: clean, warm, right on its tile?"
        if others
        else "Is the meter right, clean and on its tile, or did all these floors change?",
        "Read ten stations with it and with another meter on one day and enter the bridge, or have"
        " it calibrated.",
    )


def counts_said(alarm: Alarm, *, a_year_ago: bool) -> Alarm:
    """The alarm of counted traffic with its three sentences.

    Parameters
    ----------
    a_year_ago : compared with the same days a year before.

    Assumption: wording.
    """
    before = "a year before" if a_year_ago else "before"
    return replace(
        alarm,
        says=f"{alarm.zones[0]} is walked {alarm.strength:.1f} times as much as {before}, by its"
        f" counter since about {alarm.since}: {alarm.seen:,.0f} weighted passes a day where"
        f" {alarm.expected:,.0f} were counted.",
        asks="Did the ways through the building change, or does the counter count wrongly?",
        mend="Ask the site; if the counts are right nothing need be entered, wear is reckoned with"
        " them, but look at the promise and the price.",
    )


def _gloss(alarm: Alarm) -> str:
    errors = abs(alarm.errors or 0.0)
    side = "below" if alarm.seen < alarm.expected else "above"
    return (
        f"{alarm.seen:.0f} {alarm.unit} where {alarm.expected:.0f} was to be expected,"
        f" {errors:.1f} errors {side}"
    )
