"""Workers with their qualifications, crews with members and shifts, and people, out of rows."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from typing import Any

from floorcare.faces.intake.columns import BRANCHES
from floorcare.faces.intake.columns_contracts import CONTACTS
from floorcare.faces.intake.columns_crews import (
    ABSENCES,
    CREW_MEMBERS,
    CREWS,
    PEOPLE,
    QUALIFICATIONS,
    SHIFTS,
    WORKERS,
)
from floorcare.faces.intake.drafts import CrewDraft, WorkerDraft
from floorcare.faces.intake.gathering import Days, Gathering
from floorcare.faces.intake.lines import Line
from floorcare.ground.trade.crew import Absence, Crew, CrewMember, Qualification, Shift, Worker
from floorcare.ground.trade.people import Person
from floorcare.ground.worktime.night import DAY_MINUTES
from floorcare.ground.worktime.window import WEEKDAY_NAMES

SHIFT_MINUTES = range(30, 961)
"""Lengths a shift may have. Assumption: as a branch's shift_minutes."""


def take_workers(lines: Iterator[Line], so_far: Gathering) -> None:
    """Workers by code."""
    seen: dict[Any, int] = {}
    for line in lines:
        code = line.cells["worker"]
        so_far.names(WORKERS, line, "branch", so_far.branches, BRANCHES)
        so_far.in_order(WORKERS, line)
        if code and so_far.first_of(WORKERS, line, seen, code, "worker", "the worker"):
            so_far.workers[code] = WorkerDraft(line)


def take_qualifications(lines: Iterator[Line], so_far: Gathering) -> None:
    """Qualifications, onto their workers."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells = line.cells
        good = so_far.names(QUALIFICATIONS, line, "worker", so_far.workers, WORKERS)
        good = so_far.in_order(QUALIFICATIONS, line, "from_on", "expires_on") and good
        if not (good and line.fits):
            continue
        key = (cells["worker"], cells["name"], cells["from_on"])
        if so_far.first_of(QUALIFICATIONS, line, seen, key, "from_on", "this qualification"):
            so_far.workers[cells["worker"]].qualifications.append(
                Qualification(
                    name=cells["name"], from_on=cells["from_on"], expires_on=cells["expires_on"]
                )
            )


def take_absences(lines: Iterator[Line], so_far: Gathering) -> None:
    """Days away, onto their workers."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, code = line.cells, line.cells["worker"]
        good = so_far.names(ABSENCES, line, "worker", so_far.workers, WORKERS)
        good = so_far.in_order(ABSENCES, line) and good
        if not (good and line.fits):
            continue
        key, what = (code, cells["from_on"]), "this absence of the worker"
        if so_far.first_of(ABSENCES, line, seen, key, "from_on", what):
            so_far.workers[code].absences.append(
                Absence(
                    from_on=cells["from_on"],
                    to_on=cells["to_on"] or cells["from_on"],
                    why=cells["why"],
                )
            )


def take_crews(lines: Iterator[Line], so_far: Gathering) -> None:
    """Crews by code."""
    seen: dict[Any, int] = {}
    for line in lines:
        code = line.cells["crew"]
        so_far.names(CREWS, line, "branch", so_far.branches, BRANCHES)
        if code and so_far.first_of(CREWS, line, seen, code, "crew", "the crew"):
            so_far.crews[code] = CrewDraft(line)


def take_crew_members(lines: Iterator[Line], so_far: Gathering) -> None:
    """Members, onto their crews; nobody is in two crews at once."""
    held: defaultdict[str, list[Days]] = defaultdict(list)
    for line in lines:
        cells = line.cells
        good = so_far.names(CREW_MEMBERS, line, "crew", so_far.crews, CREWS)
        good = so_far.names(CREW_MEMBERS, line, "worker", so_far.workers, WORKERS) and good
        good = so_far.in_order(CREW_MEMBERS, line) and good
        if not (good and line.fits and _of_one_branch(line, so_far)):
            continue
        days = held[cells["worker"]]
        if so_far.meets_none(CREW_MEMBERS, line, days, "the worker is in two crews at once"):
            days.append(so_far.days_of(line))
            so_far.crews[cells["crew"]].members.append(
                CrewMember(worker=cells["worker"], from_on=cells["from_on"], to_on=cells["to_on"])
            )


def take_shifts(lines: Iterator[Line], so_far: Gathering) -> None:
    """Shifts, onto their crews; a crew has one shift a night."""
    held: defaultdict[tuple[str, int], list[Days]] = defaultdict(list)
    for line in lines:
        cells = line.cells
        good = so_far.names(SHIFTS, line, "crew", so_far.crews, CREWS)
        good = so_far.in_order(SHIFTS, line) and good
        if not (good and line.fits and _long_enough(line, so_far)):
            continue
        nights = [(cells["crew"], weekday) for weekday in sorted(cells["nights"])]
        if not all(
            so_far.meets_none(
                SHIFTS, line, held[night], f"two shifts of the crew start on {_weekday(night)}s"
            )
            for night in nights
        ):
            continue
        for night in nights:
            held[night].append(so_far.days_of(line))
        so_far.crews[cells["crew"]].shifts.append(
            Shift(
                weekdays=cells["nights"],
                starts_minute=cells["from"] % DAY_MINUTES,
                ends_minute=cells["to"],
                break_minutes=cells["break_minutes"],
                from_on=cells["from_on"] or date.min,
                to_on=cells["to_on"],
            )
        )


def take_people(lines: Iterator[Line], so_far: Gathering) -> None:
    """People by code."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells, code = line.cells, line.cells["person"]
        good = so_far.names(PEOPLE, line, "worker", so_far.workers, WORKERS)
        good = so_far.names(PEOPLE, line, "contact", so_far.contacts, CONTACTS) and good
        if code is None or not so_far.first_of(PEOPLE, line, seen, code, "person", "the person"):
            continue
        if good and line.fits:
            so_far.people[code] = Person(
                code=code,
                name=cells["name"],
                role=cells["role"],
                email=cells["email"],
                worker=cells["worker"],
                contact=cells["contact"],
            )


def ask_about_crews(so_far: Gathering) -> None:
    """Ask about crews that go out on no night, or with nobody, from today on."""
    for crew in so_far.crews.values():
        lacking = (
            (SHIFTS, crew.shifts, "no shift", "it goes out on no night", "its nights"),
            (CREW_MEMBERS, crew.members, "no member", "nobody goes out with it", "its workers"),
        )
        for kind, spans, lacks, so, wanted in lacking:
            current = any(s.to_on is None or s.to_on >= so_far.today for s in spans)
            if not current and kind.name not in so_far.unread:
                so_far.note(
                    "asks",
                    CREWS,
                    crew.line,
                    "crew",
                    f"the crew has {lacks} from {so_far.today} on, so {so}",
                    mend=f"add {wanted} to {kind.name}, or leave the crew out",
                )


def worker_of_draft(draft: WorkerDraft) -> Worker:
    """The worker's record."""
    cells = draft.line.cells
    return Worker(
        code=cells["worker"],
        name=cells["name"],
        branch=cells["branch"],
        languages=cells["languages"],
        qualifications=tuple(sorted(draft.qualifications, key=lambda q: (q.name, q.from_on))),
        from_on=cells["from_on"] or date.min,
        to_on=cells["to_on"],
        absences=tuple(sorted(draft.absences, key=lambda a: a.from_on)),
    )


def crew_of_draft(draft: CrewDraft) -> Crew:
    """The crew's record."""
    cells = draft.line.cells
    return Crew(
        code=cells["crew"],
        branch=cells["branch"],
        name=cells["name"],
        members=tuple(sorted(draft.members, key=lambda m: (m.worker, m.from_on))),
        shifts=tuple(
            sorted(draft.shifts, key=lambda s: (s.from_on, sorted(s.weekdays), s.starts_minute))
        ),
    )


def _weekday(night: tuple[str, int]) -> str:
    return WEEKDAY_NAMES[night[1]]


def _of_one_branch(line: Line, so_far: Gathering) -> bool:
    """Whether a member belongs to the branch of the crew."""
    crew = so_far.crews[line.cells["crew"]].line.cells["branch"]
    worker = so_far.workers[line.cells["worker"]].line.cells["branch"]
    if crew is None or worker is None or crew == worker:
        return True
    problem = f"the worker belongs to branch {worker}, the crew to branch {crew}"
    mend = "name a worker of the crew's branch, or correct the branch in workers.csv"
    so_far.note("stops", CREW_MEMBERS, line, "worker", problem, mend=mend)
    return False


def _long_enough(line: Line, so_far: Gathering) -> bool:
    """Whether a shift has a length people work, and more of it than its break."""
    cells = line.cells
    starts, ends = cells["from"] % DAY_MINUTES, cells["to"]
    minutes = ends - starts if ends > starts else ends + DAY_MINUTES - starts
    if minutes not in SHIFT_MINUTES:
        so_far.note(
            "stops",
            SHIFTS,
            line,
            "to",
            f"the shift lasts {minutes:,} minutes",
            allowed=f"{SHIFT_MINUTES[0]} to {SHIFT_MINUTES[-1]} minutes",
            mend="correct from or to",
        )
        return False
    if cells["break_minutes"] >= minutes:
        problem = f"the break is as long as the shift of {minutes} minutes"
        so_far.note("stops", SHIFTS, line, "break_minutes", problem, mend="correct the break")
        return False
    return True
