"""A week's visit lists as plain words, laid out afterwards by the page and the printed list."""

from floorcare.faces.documents import wording
from floorcare.ground.trade.zone import spoken_name
from floorcare.services.sheets import (
    SheetLine,
    SheetQuantity,
    SheetStep,
    Units,
    VisitSheet,
    WeekLists,
)

Plain = dict[str, object]


def answer(lists: WeekLists) -> str:
    """The week in one sentence.

    >>> from datetime import date
    >>> answer(WeekLists(starts_on=date(2026, 3, 2), contractor="C", branch="B"))
    'No visits this week.'
    """
    if lists.sheets:
        visits = wording.count(len(lists.sheets), "visit")
        nights = wording.count(lists.nights, "night")
        parts = [f"{visits} on {nights} this week"]
        parts.append(f"{wording.length(lists.person_minutes)} of work")
    else:
        parts = ["No visits this week"]
    if lists.unplaced:
        parts.append(f"{len(lists.unplaced):,} could not be placed")
    return "; ".join(parts) + "."


def as_text(lists: WeekLists) -> Plain:
    """Everything the lists say, as nested dicts, lists and strings."""
    week = f"Week of {wording.day_words(lists.starts_on)}"
    return {
        "title": f"Visit lists, {lists.branch}: {week[0].lower()}{week[1:]}",
        "heading": wording.heading(lists.contractor, lists.branch),
        "branch": lists.branch,
        "week": week,
        "answer": wording.bound(answer(lists)),
        "as_of": f"As of {lists.as_of}" if lists.as_of else "",
        "precedence": wording.PRECEDENCE,
        "visits": [_visit(sheet) for sheet in lists.sheets],
        "routines": [
            {
                "site": routine.site,
                "site_name": routine.site_name,
                "weekdays": routine.weekdays,
                "work": routine.work,
                "who": routine.who,
            }
            for routine in lists.routines
        ],
        "unplaced": [
            {
                "what": f"{note.zone}, {note.work}",
                "why": note.why.rstrip("."),
                "mend": note.mend.rstrip("."),
            }
            for note in lists.unplaced
        ],
    }


def products(quantities: tuple[SheetQuantity, ...], units: Units) -> list[str]:
    """Each product with its volume, coats, and whether the figure is an estimate."""
    words = []
    for quantity in quantities:
        volume = wording.volume_words(quantity.litres, units)
        coats = f" in {quantity.coats} coats" if quantity.coats > 1 else ""
        estimate = " (estimate: no product sheet entered)" if quantity.estimate else ""
        words.append(f"{quantity.product} {volume}{coats}{estimate}")
    return words


def _visit(sheet: VisitSheet) -> Plain:
    facts = (
        ("Access", ". ".join(filter(None, (sheet.access_window, sheet.access_note)))),
        ("Notice", sheet.notice),
        ("Reopening", sheet.reopening),
    )
    starts = wording.clock(sheet.starts_minute, sheet.night)
    ends = wording.clock(sheet.ends_minute, sheet.night)
    return {
        "uuid": sheet.uuid,
        "site": sheet.site,
        "site_name": sheet.site_name,
        "address": sheet.address,
        "customer": sheet.customer,
        "branch": sheet.branch,
        "night": wording.day_words(sheet.night),
        "night_short": wording.day_short(sheet.night),
        "starts": starts,
        "ends": ends,
        "people": wording.count(sheet.people, "person", "people"),
        "people_count": str(sheet.people),
        "zone_count": str(len({line.zone for line in sheet.zones})),
        "work": wording.length(sheet.person_minutes),
        "state": sheet.state,
        "stands": sheet.stands,
        "facts": [[name, text] for name, text in facts if text],
        "lines": [_line(line, sheet) for line in sheet.zones],
        "readings": [
            {"zone": place.zone, "station": place.station or "whole zone"}
            for place in sheet.reading_places
        ],
        "cautions": list(sheet.cautions),
        "area_unit": wording.area_unit(sheet.units),
        "volume_unit": wording.volume_unit(sheet.units),
    }


def _line(line: SheetLine, sheet: VisitSheet) -> Plain:
    return {
        "zone": line.zone,
        "name": spoken_name(line.area_name, line.zone_name),
        "work": line.work,
        "area": wording.area_words(line.area_m2, sheet.units),
        "part": _part(line, sheet),
        "minutes": wording.length(line.person_minutes),
        "reason": wording.bound(line.reason_inside),
        "closes": wording.clock(line.closes_minute, sheet.night),
        "starts": wording.clock(line.starts_minute, sheet.night),
        "ends": wording.clock(line.ends_minute, sheet.night),
        "reopens": wording.clock(line.reopens_minute, sheet.night),
        "steps": [_step(step) for step in line.steps],
        "products": products(line.quantities, sheet.units),
    }


def _part(line: SheetLine, sheet: VisitSheet) -> str:
    """What part of its zone a line treats, "" where it is all of it."""
    if line.area_m2 is None or line.zone_m2 is None or line.area_m2 >= 0.9 * line.zone_m2:
        return ""
    whole = wording.area_words(line.zone_m2, sheet.units)
    return f"Part of the zone: {wording.area_words(line.area_m2, sheet.units)} of {whole}."


def _step(step: SheetStep) -> Plain:
    minutes = wording.length(step.minutes) if step.minutes else ""
    wait = f"then wait {wording.length(step.wait_minutes)}" if step.wait_minutes else ""
    return {
        "name": step.name,
        "machine": step.machine,
        "tool": step.tool,
        "product": step.product,
        "minutes": minutes,
        "wait": wait,
    }
