"""What commands say: the answer in the first line, the rest in aligned columns."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path
from shlex import quote

from floorcare.faces.cli.demo import DemoAccount
from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.faces.cli.writing import WrittenCalendar
from floorcare.faces.documents import visit_list_text
from floorcare.faces.documents.wording import count, length
from floorcare.ground.rules.reasons import said
from floorcare.ground.schedule.urgent import UrgentFloor
from floorcare.ground.schedule.what_if import WhatIf
from floorcare.ground.trade.visit import ChangeKind, PlanChange, Unplaced
from floorcare.services.explain_why import Explanation
from floorcare.services.plan_year import YearAccount
from floorcare.services.sheets import WeekLists
from floorcare.services.show_floors import nights_said
from floorcare.services.show_visits import VisitRow
from floorcare.store.upgrade import UpgradeResult
from floorcare.store.visits import VisitEvent

MOST_UNPLACED = 12
MOST_CHANGES = 12


def _day(on: date | None) -> str:
    return f"{on:%a %d %b %Y}" if on else "–"


def plan_account(account: YearAccount, *, dry_run: bool, every_change: bool) -> str:
    """The plan's answer, what changed, what is urgent, and what found no night."""
    kinds = [f"{account.count(kind):,} {kind.value}" for kind in ChangeKind if account.count(kind)]
    if account.written:
        head = "Plan written"
    else:
        head = "Dry run, nothing written" if dry_run else "Nothing changed, nothing written"
    lines = [
        f"{head}: {count(account.visits, 'visit')} with {count(account.lines, 'line')} at "
        f"{count(account.sites, 'site')}, {said(account.today)} to {said(account.last_on)}; "
        f"{', '.join(kinds) or 'no visits'}.",
    ]
    lines += _changes(account.changes, every_change)
    lines += ["", *urgent_lines(account.urgent)]
    lines += ["", *unplaced_lines(account.unplaced, account.late)]
    if account.saved_minutes:
        lines.append(
            "Going once for several works saves "
            f"{length(account.saved_minutes)} of travel and set-up over the year."
        )
    if account.over_before:
        lines.append(
            f"Crews: {account.over_before:,} crew-minutes lay above a night's capacity, "
            f"{account.over_after:,} do after moving visits inside their windows."
        )
    return "\n".join(lines)


def alone_words(account: YearAccount) -> str:
    """Which sites were planned, where only some were asked for."""
    if not account.alone:
        return (
            "Every site was planned: the plan that stood was of another day, horizon or pooled "
            "values."
        )
    return f"Planned: {', '.join(account.alone)}. Every other site stays as it stands."


def _changes(changes: Sequence[PlanChange], every: bool) -> list[str]:
    told = [c for c in changes if c.kind is not ChangeKind.KEPT]
    left = 0
    if not every:
        told = [c for c in told if c.kind is not ChangeKind.ADDED]
        left = max(0, len(told) - MOST_CHANGES)
        told = told[:MOST_CHANGES]
    lines = [
        f"  {c.kind.value:8} {c.site:18} {_day(c.night_before):>16} → {_day(c.night_after):16} "
        f"{c.why}"
        for c in told
    ]
    return [*lines, *([f"  … and {left:,} more (--changes names all)"] if left else [])]


def urgent_lines(urgent: Sequence[UrgentFloor]) -> list[str]:
    """The floors to see to first."""
    if not urgent:
        return ["No floor needs a treatment within the horizon."]
    lines = ["Most urgent:"]
    for floor in urgent:
        night = f"planned {_day(floor.night)}" if floor.night else "no night found"
        lines.append(f"  {floor.site}/{floor.zone}, {night}: {floor.sentence}")
    return lines


def unplaced_lines(unplaced: Sequence[Unplaced], late: int) -> list[str]:
    """What could not be placed, each with its reason and mend."""
    head = "Everything found a night."
    if unplaced:
        head = f"{count(len(unplaced), 'work')} could not be placed:"
    lines = [head]
    for one in unplaced[:MOST_UNPLACED]:
        due = one.due
        lines.append(
            f"  {due.site}/{due.zone} {due.work} by {_day(due.latest)}: {one.why}. "
            f"Would help: {one.mend}."
        )
    if len(unplaced) > MOST_UNPLACED:
        lines.append(f"  … and {len(unplaced) - MOST_UNPLACED} more (--json names all)")
    if late:
        lines.append(
            f"{count(late, 'line')} found a night only after the latest one; the visit list marks "
            "them."
        )
    return lines


def visit_rows(rows: Sequence[VisitRow], first: date, last: date) -> str:
    """Visits by night."""
    head = f"{count(len(rows), 'visit')} from {said(first)} to {said(last)}."
    lines = [head]
    for row in rows:
        late = ", late" if row.late else ""
        agreement = "" if row.agreement == "not needed" else f", {row.agreement}"
        lines.append(
            f"  {_day(row.night)}  {row.starts}  {row.minutes:>4} min  {row.site:20} "
            f"{row.state}{agreement}{late}: {', '.join(row.work)}"
        )
    return "\n".join(lines)


MOST_WORKS = 6


def explanation(answer: Explanation) -> str:
    """Why a visit stands, or what a zone needs next and what would change it."""
    if answer.about == "visit":
        lines = [f"Visit {answer.name} on {_day(answer.night)} at {answer.state}."]
        shown = answer.works
    else:
        lines = [f"{answer.name}: {_condition(answer)}."]
        shown = answer.works[:MOST_WORKS]
    for work in shown:
        lines += [
            "",
            f"  {work.work} of {work.zone}, {_nights(work.nights)}",
            f"    why        {work.inside}",
        ]
        lines.append(f"    customer   {work.customer}")
        lines.append(
            f"    window     earliest {_day(work.earliest)}, target {_day(work.target)}, latest "
            f"{_day(work.latest)}; {work.minutes} person-minutes"
        )
        if work.unplaced:
            lines.append(f"    not placed {work.unplaced}")
        facts = "; ".join(f"{name} {value}" for name, value in work.facts if value is not None)
        lines.append(f"    rule       {work.rule}{': ' if facts else ''}{facts}")
        lines += [f"    not        {name}: {reason}" for name, reason in work.rejected]
    if len(answer.works) > len(shown):
        lines += ["", f"  … and {len(answer.works) - len(shown)} later works (--json names all)"]
    thens = {_then(one) for one in answer.what_ifs}
    if len(thens) == 1:
        lines += ["", f"  None of what was supposed changes the next treatment: {thens.pop()}."]
    elif answer.what_ifs:
        lines += ["", "  What would change the next treatment:"]
        lines += [f"    {one.supposed}: {_then(one)}" for one in answer.what_ifs]
    if answer.events:
        lines += ["", "  What happened to it:"]
        lines += [f"    {_event(one)}" for one in answer.events]
    if answer.alarms:
        lines += ["", "  To look at (no plan was changed):"]
        lines += [f"    {alarm}" for alarm in answer.alarms]
    return "\n".join(lines)


def _event(event: VisitEvent) -> str:
    """One thing that happened to a visit: when, what, on whose word, and why."""
    parts = [f"{event.at:%Y-%m-%d %H:%M} UTC  {event.kind}"]
    if event.night_before and event.night_before != event.night_after:
        parts.append(f"from {event.night_before}")
    if event.night_after:
        parts.append(f"{'to' if len(parts) > 1 else 'for'} {event.night_after}")
    to = "of" if event.kind == "asked" else "by"
    word = f" {to} {event.done_by} ({event.how}, {event.said_on})" if event.done_by else ""
    entered = f", entered by {event.who}" if event.done_by else f" by {event.who}'s plan"
    return f"{' '.join(parts)}{word}{entered}{': ' if event.why else ''}{event.why}"


def _nights(nights: Sequence[date]) -> str:
    if not nights:
        return "no night found"
    if len(nights) == 1:
        return f"planned {_day(nights[0])}"
    return f"planned in {len(nights)} nights, {_day(nights[0])} to {_day(nights[-1])}"


def _condition(answer: Explanation) -> str:
    outlook = answer.outlook
    if outlook is None or outlook.gloss_gu is None:
        return f"{answer.state}; no reading, so it runs on its own rhythm and caps"
    parts = [
        f"about {outlook.gloss_gu:.0f} GU today ({outlook.low_gu:.0f} to {outlook.high_gu:.0f} "
        f"with 90 %), {answer.state}"
    ]
    if outlook.promise_gu is not None:
        parts.append(f"promised {outlook.promise_gu:.0f} GU")
        parts.append(f"nights until the promise breaks: {nights_said(outlook)}")
    if outlook.guarded:
        parts.append("guarded for slip")
    return "; ".join(parts)


def _then(one: WhatIf) -> str:
    return f"{one.work.value} due {_day(one.by)}" if one.work else "no treatment within the year"


def lists(weeks: Sequence[WeekLists], paths: Iterable[Path]) -> str:
    """Each branch's first line and where its lists lie."""
    heads = [f"{week.branch}: {visit_list_text.answer(week)}" for week in weeks] or [NO_BRANCH]
    return "\n".join([*heads, *(f"Written: {path}" for path in paths)])


def calendars(written: Sequence[WrittenCalendar]) -> str:
    """The calendar files."""
    lines = [f"{count(len(written), 'calendar')} written."]
    for one in written:
        out = f", {one.left_out} left out" if one.left_out else ""
        lines.append(f"  {one.path}: {count(one.visits, 'visit')}{out}")
    return "\n".join(lines)


def upgraded(result: UpgradeResult) -> str:
    """What became of the database."""
    if result.created:
        return f"New database made at revision {result.to_revision}. Next: floorcare load FOLDER"
    if result.from_revision == result.to_revision:
        return f"The database is up to date, revision {result.to_revision}."
    copy = f" A copy from before lies at {result.copy_path}." if result.copy_path else ""
    return f"Upgraded from revision {result.from_revision} to {result.to_revision}.{copy}"


def _places(files: Sequence[tuple[str, Path]]) -> Iterator[str]:
    """Where the files lie; several of one kind by their folder."""
    kinds: dict[str, list[Path]] = {}
    for what, path in files:
        kinds.setdefault(what, []).append(path)
    for what, paths in kinds.items():
        several = len(paths) > 1
        where = f"{paths[0].parent} ({count(len(paths), 'file')})" if several else f"{paths[0]}"
        yield f"  {what:18} {where}"


def demo_account(account: DemoAccount) -> str:
    """The demo's short account."""
    plan = account.plan
    brought = sum(a + c + u for _, a, c, u in account.loaded.counts)
    lines = [
        f"A year is planned: {count(plan.visits, 'visit')} with {count(plan.lines, 'line')} for "
        f"{count(plan.zones, 'zone')} at {count(plan.sites, 'site')}, from {brought:,} records of "
        f"an invented contractor, as of {said(plan.today)}.",
        *(() if account.changed_anything else ("All of it stood already; every visit was kept.",)),
        "",
        *urgent_lines(plan.urgent),
        "",
        *unplaced_lines(plan.unplaced, plan.late),
        "",
        "Files:",
        *_places(account.files),
        "",
        f"Next: floorcare visits --db {quote(str(account.database))} "
        f"--from {plan.today.isoformat()}",
        "Your own sites: docs/folder.md tells the layout; floorcare load FOLDER, floorcare plan.",
    ]
    return "\n".join(lines)
