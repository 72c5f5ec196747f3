"""A week's visit lists as plain words, laid out afterwards by the page and the printed list."""

import re
from collections.abc import Callable, Mapping
from datetime import date, timedelta

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
from floorcare.store.languages import ENGLISH, Texts, load_texts, phrase_book
from floorcare.store.respoken import respoken, state_respoken

Plain = dict[str, object]
_DILUTED = re.compile(r"(.*), 1 part to (\d+) of water")


def answer(lists: WeekLists, texts: Texts | None = None) -> str:
    """The week in one sentence.

    >>> from datetime import date
    >>> answer(WeekLists(starts_on=date(2026, 3, 2), contractor="C", branch="B"))
    'No visits this week.'
    """
    texts = texts or load_texts()
    if lists.sheets:
        counts = {
            "visits": texts.count("visit", len(lists.sheets)),
            "nights": texts.count("night", lists.nights),
        }
        parts = [texts.say("list.some", **counts)]
        parts.append(texts.say("list.work", length=wording.length(lists.person_minutes)))
    else:
        parts = [texts.say("list.none")]
    if lists.unplaced:
        parts.append(texts.say("list.unplaced", number=texts.number(len(lists.unplaced))))
    return "; ".join(parts) + "."


def as_text(lists: WeekLists, language: str = ENGLISH) -> Plain:
    """Everything the lists say, as nested dicts, lists and strings.

    Parameters
    ----------
    language : BCP 47 tag of the reader. Reasons and access notes stay in English.
    """
    texts, book = load_texts(language), phrase_book(language)
    day = texts.day(lists.starts_on)
    return {
        "language": texts.language,
        "t": texts.by_code,
        "title": texts.say("list.title", branch=lists.branch, day=day),
        "heading": wording.heading(lists.contractor, lists.branch),
        "branch": lists.branch,
        "week": texts.say("list.week", day=day),
        "answer": wording.bound(answer(lists, texts)),
        "as_of": texts.say("list.as_of", what=respoken(lists.as_of, texts)) if lists.as_of else "",
        "precedence": texts.by_code["list.precedence"],
        "visits": [_visit(sheet, texts, book) for sheet in lists.sheets],
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


def products(
    quantities: tuple[SheetQuantity, ...],
    units: Units,
    named: Callable[[str], str] = str,
    texts: Texts | None = None,
) -> list[str]:
    """Each product with its volume, coats, and whether the figure is an estimate."""
    texts = texts or load_texts()
    words = []
    for quantity in quantities:
        volume = wording.volume_words(quantity.litres, units)
        coats = _coats(quantity.coats, texts)
        estimate = f" ({texts.by_code['list.estimate']})" if quantity.estimate else ""
        name = named(quantity.product)
        words.append(f"{name} {volume}{coats}{estimate}")
    return words


def _visit(sheet: VisitSheet, texts: Texts, book: Mapping[str, str]) -> Plain:
    facts = (
        (
            texts.by_code["head.access"],
            respoken(". ".join(filter(None, (sheet.access_window, sheet.access_note))), texts),
        ),
        (texts.by_code["head.notice"], respoken(sheet.notice, texts)),
        (texts.by_code["head.reopening"], respoken(sheet.reopening, texts)),
    )
    starts = _clock(sheet.starts_minute, sheet.night, texts)
    ends = _clock(sheet.ends_minute, sheet.night, texts)
    return {
        "uuid": sheet.uuid,
        "site": sheet.site,
        "site_name": sheet.site_name,
        "address": sheet.address,
        "customer": sheet.customer,
        "branch": sheet.branch,
        "night": texts.day(sheet.night),
        "night_short": texts.day(sheet.night, "short"),
        "starts": starts,
        "ends": ends,
        "people": texts.count("person", sheet.people),
        "people_count": str(sheet.people),
        "zone_count": str(len({line.zone for line in sheet.zones})),
        "work": wording.length(sheet.person_minutes),
        "work_in_all": texts.say("list.work", length=wording.length(sheet.person_minutes)),
        "for_customer": texts.say("list.for_customer", customer=sheet.customer),
        "on_site": _lowered(texts.by_code["head.on_site"]),
        "leaves": _lowered(texts.by_code["head.leaves"]),
        "used": texts.say("write.used", unit=wording.volume_unit(sheet.units)),
        "state": state_respoken(sheet.state, texts),
        "stands": sheet.stands,
        "facts": [[name, text] for name, text in facts if text],
        "lines": [_line(line, sheet, texts, book) for line in sheet.zones],
        "readings": [
            {"zone": place.zone, "station": place.station or texts.by_code["list.whole_zone"]}
            for place in sheet.reading_places
        ],
        "cautions": [book.get(caution, caution) for caution in sheet.cautions],
        "area_unit": wording.area_unit(sheet.units),
        "volume_unit": wording.volume_unit(sheet.units),
    }


def _line(line: SheetLine, sheet: VisitSheet, texts: Texts, book: Mapping[str, str]) -> Plain:
    return {
        "zone": line.zone,
        "name": spoken_name(line.area_name, line.zone_name),
        "work": book.get(line.work, line.work),
        "area": wording.area_words(line.area_m2, sheet.units),
        "part": _part(line, sheet, texts),
        "minutes": wording.length(line.person_minutes),
        "reason": wording.bound(line.reason_inside),
        "closes": _clock(line.closes_minute, sheet.night, texts),
        "starts": _clock(line.starts_minute, sheet.night, texts),
        "ends": _clock(line.ends_minute, sheet.night, texts),
        "reopens": _clock(line.reopens_minute, sheet.night, texts),
        "steps": [_step(step, texts, book) for step in line.steps],
        "products": products(
            line.quantities, sheet.units, lambda name: _product(name, texts, book), texts
        ),
    }


def _part(line: SheetLine, sheet: VisitSheet, texts: Texts) -> str:
    """What part of its zone a line treats, "" where it is all of it."""
    if line.area_m2 is None or line.zone_m2 is None or line.area_m2 >= 0.9 * line.zone_m2:
        return ""
    whole = wording.area_words(line.zone_m2, sheet.units)
    return texts.say("list.part", area=wording.area_words(line.area_m2, sheet.units), whole=whole)


def _step(step: SheetStep, texts: Texts, book: Mapping[str, str]) -> Plain:
    minutes = wording.length(step.minutes) if step.minutes else ""
    wait = ""
    if step.wait_minutes:
        wait = texts.say("list.wait", length=wording.length(step.wait_minutes))
    return {
        "name": book.get(step.name, step.name),
        "machine": book.get(step.machine, step.machine),
        "tool": book.get(step.tool, step.tool),
        "product": _product(step.product, texts, book),
        "minutes": minutes,
        "wait": wait,
    }


def _clock(minute: int | None, night: date, texts: Texts) -> str:
    """A minute of the night; past midnight with its own weekday in the reader's language."""
    said = wording.clock(minute, night)
    if minute is None or minute < wording.MINUTES_OF_DAY:
        return said
    day = night + timedelta(days=minute // wording.MINUTES_OF_DAY)
    return f"{texts.weekday(day, short=True)}\N{NO-BREAK SPACE}{said[-5:]}"


def _lowered(word: str) -> str:
    return f"{word[0].lower()}{word[1:]}"


def _coats(number: int, texts: Texts) -> str:
    """How often a product is laid, "" where once."""
    if number < 2:
        return ""
    if texts.language == ENGLISH:
        return f" in {number} coats"
    return f", {texts.say('list.times', number=number)}"


def _product(name: str, texts: Texts, book: Mapping[str, str]) -> str:
    """A product with its dilution, both in the reader's language."""
    found = _DILUTED.fullmatch(name)
    if found is None or not book:
        return book.get(name, name)
    bare, parts = found.groups()
    return f"{book.get(bare, bare)}, {texts.say('list.diluted', parts=parts)}"
