"""What is said when a visit was changed by hand, or could not be, and of shut days."""

from collections.abc import Sequence
from datetime import date

from floorcare.faces.documents.wording import count
from floorcare.services.change_visit import VisitChanged
from floorcare.services.shut_site import ShutChanged, ShutRow


def _day(on: date) -> str:
    return f"{on:%a %d %b %Y}"


def changed(answer: VisitChanged) -> str:
    """What was done, and what it means for later plans and for the customer's calendar."""
    visit = f"{answer.site} {_day(answer.night)} {answer.starts}"
    heads = {
        "moved": f"{answer.site} moved from {_day(answer.night_before)} to "
        f"{_day(answer.night)} {answer.starts}",
        "held": f"{visit} is held",
        "released": f"{visit} is held no longer",
        "asked": f"{visit}: {answer.by} was asked",
        "agreed": f"{visit}: {answer.by} agreed",
        "refused": f"{visit}: {answer.by} refused",
        "cancelled": f"{visit} is called off",
    }
    lines = [f"{heads[answer.act]}; {_meaning(answer)}."]
    if answer.offered:
        lines.append(f"  instead: {', '.join(map(_day, answer.offered))}")
    lines += [f"  back to the rules: {undone}" for undone in answer.undone]
    if answer.undone:
        lines.append(
            "  The next plan may ask for the same night again; `floorcare visits refuse` or "
            "`floorcare shut` keeps it off."
        )
    return "\n".join(lines)


def _meaning(answer: VisitChanged) -> str:
    if answer.act == "cancelled":
        return "calendars show it called off until seven days after its night"
    if answer.act == "refused":
        return "the next plan looks for another night"
    if answer.stands:
        by = "held" if answer.state == "held" else answer.agreement
        return f"{by}, so no plan moves it"
    return "the next plan may move it"


def not_changed(answer: VisitChanged) -> str:
    """Why nothing was done, in one line; the findings follow it."""
    visit = f"{answer.site} {_day(answer.night_before)}"
    if any(finding.weight == "stops" for finding in answer.findings):
        return f"{visit} cannot be {answer.act}; nothing was changed."
    return f"{visit} should not be {answer.act} unseen; nothing was changed. --sure does it."


def shut_rows(rows: Sequence[ShutRow], site: str, first: date) -> str:
    """Shut days, one stretch a line."""
    where = f" of {site}" if site else ""
    lines = [f"{count(len(rows), 'shut stretch', 'shut stretches')}{where} from {_day(first)} on."]
    lines += [f"  {row.site:20} {_span(row)}  {row.why}" for row in rows]
    return "\n".join(lines)


def _span(row: ShutRow) -> str:
    if row.from_on == row.to_on:
        return _day(row.from_on)
    return f"{_day(row.from_on)} to {_day(row.to_on)}"


def shut_changed(answer: ShutChanged) -> str:
    """What became of shut days, and which visits they touch."""
    shut = answer.shut
    if answer.withdrawn:
        return f"{shut.site} is shut no longer {_span(shut)} ({shut.why}). Next: floorcare plan"
    head = "is shut" if answer.written else "was shut already"
    lines = [f"{shut.site} {head} {_span(shut)}: {shut.why}."]
    free = [visit for visit in answer.fallen if not visit.stands]
    bound = [visit for visit in answer.fallen if visit.stands]
    if free:
        nights = ", ".join(_day(visit.night) for visit in free)
        lines.append(f"  {count(len(free), 'visit')} for the next plan to move: {nights}")
    for visit in bound:
        said = visit.state if visit.agreement == "not needed" else visit.agreement
        lines.append(
            f"  {_day(visit.night)} is {said}, so no plan moves it: floorcare visits move "
            f"{shut.site} {visit.night} --to …"
        )
    if not answer.fallen:
        lines.append("  No visit falls in it.")
    return "\n".join(lines)
