from dataclasses import replace
from datetime import date
from uuid import UUID

import pytest

from floorcare.ground.schedule.difference import (
    SAME_VISIT_DAYS,
    Difference,
    difference,
    match,
    together,
)
from floorcare.ground.schedule.gather import Stub
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Agreement, ChangeKind, Visit, VisitState
from tests.builders import DAY, TODAY, a_due, a_line, a_night
from tests.store.sample import INSTALLATION, LATER, NOW


def a_stub(
    days: int, *works: tuple[str, Work], site: str = "NORTH", minutes: int = 120, target: int = 10
) -> Stub:
    lines = tuple(
        a_line(a_due(work, zone=zone, site=site, target=TODAY + target * DAY))
        for zone, work in works or (("LANE", Work.RECOAT),)
    )
    night = a_night(TODAY + days * DAY)
    return Stub(
        site=site, night=night, lines=lines, earliest=night.on, latest=night.on, minutes=minutes
    )


def compare(
    stubs: list[Stub], standing: tuple[Visit, ...] = (), known: frozenset[str] = frozenset()
) -> Difference:
    return difference(
        stubs,
        standing,
        people={"NORTH": 2, "SOUTH": 3},
        installation=INSTALLATION,
        known=known | {visit.uuid for visit in standing},
        now=LATER if standing else NOW,
    )


def visits(*stubs: Stub) -> tuple[Visit, ...]:
    return compare(list(stubs)).altered


def test_a_new_visit_has_a_name_made_of_site_first_due_and_work() -> None:
    added = compare([a_stub(9)])
    (visit,) = added.altered
    assert UUID(visit.uuid).version == 5
    assert visits(a_stub(9))[0].uuid == visit.uuid
    assert visits(a_stub(12))[0].uuid == visit.uuid  # the night is no part of its name
    others = (
        a_stub(9, target=11),
        a_stub(9, site="SOUTH"),
        a_stub(9, ("LANE", Work.REPOLISH)),
        a_stub(9, ("EDGE", Work.RECOAT)),
    )
    assert len({visit.uuid, *(visits(other)[0].uuid for other in others)}) == 5
    assert (visit.sequence, visit.state, visit.changed_at) == (0, VisitState.PROPOSED, NOW)
    (change,) = added.changes
    assert (change.kind, change.night_before) == (ChangeKind.ADDED, None)


def test_names_never_collide_not_even_with_a_visit_that_was_dropped() -> None:
    first = visits(a_stub(9))[0].uuid
    second = compare([a_stub(9)], known=frozenset({first})).altered[0].uuid
    third = compare([a_stub(9)], known=frozenset({first, second})).altered[0].uuid
    assert len({first, second, third}) == 3
    assert all(UUID(name).version == 5 for name in (first, second, third))
    # two parts of one work fall due on the same night and are two visits
    twins = visits(a_stub(9), a_stub(10))
    assert len({visit.uuid for visit in twins}) == 2


def test_nothing_changed_is_kept_and_empty() -> None:
    stubs = [a_stub(9), a_stub(9, site="SOUTH"), a_stub(30, ("LANE", Work.REPOLISH))]
    standing = visits(*stubs)
    again = compare(stubs, standing)
    assert again.empty
    assert again.altered == ()
    assert {change.kind for change in again.changes} == {ChangeKind.KEPT}
    assert len(again.changes) == 3


def test_another_reason_for_the_same_visit_changes_nothing() -> None:
    stub = a_stub(9)
    line = stub.lines[0]
    why = replace(line.due.reason, inside="Something else.")
    other = replace(stub, lines=(replace(line, due=replace(line.due, reason=why)),))
    assert compare([other], visits(stub)).empty


def test_a_moved_visit_keeps_its_identity_and_its_sequence_rises() -> None:
    standing = visits(a_stub(9))
    moved = compare([a_stub(12)], standing)
    (visit,) = moved.altered
    assert visit.uuid == standing[0].uuid
    assert visit.sequence == standing[0].sequence + 1
    assert (visit.night, visit.changed_at) == (TODAY + 12 * DAY, LATER)
    (change,) = moved.changes
    assert change.kind is ChangeKind.MOVED
    assert (change.night_before, change.night_after) == (TODAY + 9 * DAY, TODAY + 12 * DAY)
    assert change.why.startswith("from 11 March 2026: ")


def test_a_longer_visit_on_its_night_is_changed_and_its_sequence_rises() -> None:
    standing = visits(a_stub(9))
    (visit,) = compare([a_stub(9, minutes=150)], standing).altered
    assert (visit.uuid, visit.sequence, visit.minutes) == (standing[0].uuid, 1, 150)


def test_work_added_to_a_visit_on_its_night_is_a_change_named_after_it() -> None:
    standing = visits(a_stub(9))
    more = compare([a_stub(9, ("LANE", Work.RECOAT), ("EDGE", Work.CLEAN))], standing)
    (change,) = more.changes
    assert (change.kind, change.why) == (ChangeKind.CHANGED, "EDGE clean")
    assert more.altered[0].uuid == standing[0].uuid


def test_a_visit_no_longer_wanted_is_cancelled_and_stays_on_record() -> None:
    standing = visits(a_stub(9), a_stub(30, ("LANE", Work.REPOLISH)))
    dropped = compare([a_stub(9)], standing)
    (gone,) = dropped.altered
    assert (gone.uuid, gone.state) == (standing[1].uuid, VisitState.CANCELLED)
    assert gone.sequence == standing[1].sequence + 1
    assert gone.night == standing[1].night
    kinds = {change.visit: change.kind for change in dropped.changes}
    assert kinds == {standing[0].uuid: ChangeKind.KEPT, gone.uuid: ChangeKind.DROPPED}


def test_work_that_goes_with_another_visit_is_merged_into_it() -> None:
    standing = visits(a_stub(9, ("LANE", Work.RECOAT)), a_stub(11, ("EDGE", Work.RECOAT)))
    both = a_stub(9, ("LANE", Work.RECOAT), ("EDGE", Work.RECOAT))
    merged = compare([both], standing)
    kinds = {change.visit: change for change in merged.changes}
    assert kinds[standing[0].uuid].kind is ChangeKind.CHANGED
    assert kinds[standing[1].uuid].kind is ChangeKind.MERGED
    assert kinds[standing[1].uuid].why == "its work is done with the visit of 11 March 2026"
    gone = next(v for v in merged.altered if v.uuid == standing[1].uuid)
    assert gone.state is VisitState.CANCELLED


def test_matching_is_one_to_one_and_prefers_the_same_night_then_the_nearest() -> None:
    standing = visits(a_stub(9), a_stub(16), a_stub(23))
    stubs = [a_stub(23), a_stub(17), a_stub(8), a_stub(40)]
    matched = match(stubs, standing)
    assert matched == {0: 2, 1: 1, 2: 0}
    assert len(set(matched.values())) == len(matched)


def test_of_two_visits_on_its_night_the_one_with_just_its_lines_is_continued() -> None:
    more, just = visits(
        a_stub(9, ("LANE", Work.RECOAT), ("EDGE", Work.RECOAT)), a_stub(9, ("LANE", Work.RECOAT))
    )
    for first, second in (("a", "b"), ("b", "a")):
        standing = (replace(more, uuid=first), replace(just, uuid=second))
        assert match([a_stub(9, ("LANE", Work.RECOAT))], standing) == {0: 1}


def test_only_the_same_site_with_work_in_common_and_not_too_far_off_is_the_same_visit() -> None:
    standing = visits(a_stub(9))
    assert match([a_stub(9, site="SOUTH")], standing) == {}
    assert match([a_stub(9, ("LANE", Work.REPOLISH))], standing) == {}
    assert match([a_stub(9 + SAME_VISIT_DAYS)], standing) == {0: 0}
    assert match([a_stub(10 + SAME_VISIT_DAYS)], standing) == {}


@pytest.mark.parametrize("turned", [False, True])
def test_the_order_of_stubs_and_visits_does_not_matter(turned: bool) -> None:
    standing = visits(a_stub(9), a_stub(16, ("EDGE", Work.RECOAT)), a_stub(50))
    stubs = [a_stub(10), a_stub(18, ("EDGE", Work.RECOAT)), a_stub(70, ("LANE", Work.CLEAN))]
    step = -1 if turned else 1
    found = compare(stubs[::step], standing[::step])
    usual = compare(stubs, standing)
    assert found.changes == usual.changes
    assert sorted(v.uuid for v in found.altered) == sorted(v.uuid for v in usual.altered)


def test_changes_are_told_by_site_and_night() -> None:
    standing = visits(a_stub(20), a_stub(9, site="SOUTH"))
    found = compare([a_stub(3, ("EDGE", Work.CLEAN)), a_stub(21)], standing)
    told = [(c.site, c.night_after or c.night_before) for c in found.changes]
    assert told == sorted(told, key=lambda pair: (pair[0], pair[1] or date.min))


def test_a_refused_visit_that_moves_is_the_same_visit_and_a_new_question() -> None:
    (visit,) = visits(a_stub(9))
    refused = replace(visit, agreement=Agreement.REFUSED, sequence=3)
    found = compare([a_stub(12)], (refused,))
    (moved,) = found.altered
    assert (moved.uuid, moved.sequence) == (visit.uuid, 4)
    assert moved.agreement is Agreement.NOT_NEEDED
    (change,) = found.changes
    assert change.kind is ChangeKind.MOVED
    assert change.why.startswith("from 11 March 2026, which was refused: ")
    kept = compare([a_stub(9)], (refused,))
    assert kept.empty, "whoever refused may have come round by agreeing"


def test_that_a_line_comes_late_now_is_a_change_without_a_new_sequence() -> None:
    stub = a_stub(10)
    (visit,) = visits(stub)
    late = replace(
        stub,
        lines=tuple(replace(p, due=replace(p.due, recheck=True)) for p in stub.lines),
    )
    found = compare([late], (visit,))
    (change,) = found.changes
    assert (change.kind, change.why) == (
        ChangeKind.CHANGED,
        "minutes, areas or lateness changed",
    )
    assert found.altered[0].sequence == visit.sequence


def test_branches_differences_are_told_as_one_in_order_of_site() -> None:
    south, north = a_stub(10, site="SOUTH"), a_stub(10, site="NORTH")
    parts = [compare([south]), compare([north])]
    found = together(parts)
    assert [change.site for change in found.changes] == ["NORTH", "SOUTH"]
    assert {visit.site for visit in found.altered} == {"NORTH", "SOUTH"}
    assert found == compare([south, north])
