from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import pytest

from floorcare.ground.schedule.gather import LATE_DAYS, SiteNights, gather
from floorcare.ground.schedule.level.levelling import place_levelled
from floorcare.ground.schedule.place import Placed, Wanted, place
from floorcare.ground.schedule.what_frees import (
    MOST_WORKS_TRIED,
    BranchNights,
    nights_left,
    with_relaxations,
)
from floorcare.ground.trade.relaxation import Constraint, RelaxationKind
from floorcare.ground.trade.site import Branch
from floorcare.ground.trade.visit import Due, Unplaced
from tests.builders import DAY, TODAY, a_branch, a_due, a_night, nights_of
from tests.ground.schedule.levelled import SURFACES, TRAVEL, asked, open_nights


def ahead(days: int) -> date:
    return TODAY + days * DAY


def one_crew(**more: object) -> Branch:
    return a_branch(**{"crews": 1, "shift_minutes": 480, "reserve_share": 0.0, **more})


def planned(
    dues: Sequence[Due], site: SiteNights, branch: Branch, used: dict[date, int]
) -> tuple[tuple[Unplaced, ...], Placed]:
    """A site's dues gathered and placed: what is left without a night, and what was placed."""
    stubs, without = gather(dues, site, SURFACES)
    wanted = [
        Wanted(stub=s, stands_on=None, load=s.minutes + TRAVEL, site=site, surfaces=SURFACES)
        for s in stubs
    ]
    placed = place(wanted, branch, used)
    return (*without, *placed.unplaced), placed


def freed(
    due: Due,
    site: SiteNights,
    branch: Branch | None = None,
    used: dict[date, int] | None = None,
    beside: Sequence[Due] = (),
) -> Unplaced:
    """The one work without a night, with what would free it."""
    branch = branch or one_crew()
    without, placed = planned([*beside, due], site, branch, used or {})
    mine = [one for one in without if one.due == due]
    assert len(mine) == 1
    return with_relaxations(mine, left(site, branch, placed))[0]


def left(site: SiteNights, branch: Branch, placed: Placed) -> BranchNights:
    code = site.site
    return nights_left(branch, {code: site}, {code: SURFACES}, {code: TRAVEL}, placed)


def a_clean(minutes: int = 120, **more: object) -> Due:
    terms = {"earliest": ahead(1), "target": ahead(2), "latest": ahead(3), **more}
    return a_due(zone="A", minutes=minutes, **terms)  # type: ignore[arg-type]


FAR = 400


def test_a_night_a_little_too_short_is_lengthened_by_just_what_is_lacking() -> None:
    due = a_clean(minutes=160)
    one = freed(due, nights_of([a_night(ahead(2), minutes=60)]))
    assert one.binds is Constraint.NIGHT
    assert one.relaxation is not None
    assert one.relaxation.kind is RelaxationKind.HOUR
    assert 0 < one.relaxation.amount <= 60
    assert one.mend == f"lengthen a night ({ahead(2)}) by {one.relaxation.amount} min"
    enough = a_night(ahead(2), minutes=60 + one.relaxation.amount)
    assert gather([due], nights_of([enough]), SURFACES)[0]
    lacking = a_night(ahead(2), minutes=59 + one.relaxation.amount)
    assert not gather([due], nights_of([lacking]), SURFACES)[0]


def test_a_shift_too_short_for_the_drive_is_lengthened_not_the_night() -> None:
    nights = replace(nights_of([a_night(ahead(2))]), visit_minutes=60)
    one = freed(a_clean(minutes=160), nights)
    assert one.binds is Constraint.SHIFT
    assert one.relaxation is not None
    assert one.relaxation.unit == "minutes"
    assert one.mend.startswith(f"lengthen a crew's shift on {ahead(2)} by ")


def test_a_missing_permit_is_asked_of_the_nearest_night() -> None:
    nights = nights_of([a_night(ahead(n), permits={"wet"}) for n in (1, 2, 3)])
    one = freed(a_clean(needs=frozenset({"dust"})), nights)
    assert one.binds is Constraint.PERMIT
    assert one.relaxation is not None
    assert (one.relaxation.kind, one.relaxation.on) == (RelaxationKind.PERMIT, ahead(2))
    assert one.mend == f"have the access window of {ahead(2)} permit dust"


def test_a_night_beyond_reach_that_permits_it_comes_before_a_new_permit() -> None:
    beyond = ahead(3 + LATE_DAYS + 4)
    nights = nights_of([a_night(ahead(2), permits={"wet"}), a_night(beyond)])
    one = freed(a_clean(needs=frozenset({"dust"})), nights)
    assert one.relaxation is not None
    assert one.relaxation.kind is RelaxationKind.LATER
    assert one.relaxation.amount == LATE_DAYS + 4
    assert one.mend == f"let it wait until {beyond}, {LATE_DAYS + 4} days late"


def full(first: int = 1, last: int = FAR, minutes: int = 480) -> dict[date, int]:
    return {ahead(n): minutes for n in range(first, last)}


def test_full_crews_get_one_more_in_the_week_it_is_wanted() -> None:
    one = freed(a_clean(), open_nights(), used=full())
    assert one.binds is Constraint.CREWS
    assert one.relaxation is not None
    assert (one.relaxation.kind, one.relaxation.amount) == (RelaxationKind.CREW, 1)
    assert one.mend.startswith(f"one more crew in the week of {TODAY}, on ")
    assert ahead(1) <= one.relaxation.on <= ahead(3)


def test_the_reserve_is_given_up_where_no_more_crews_may_be_had() -> None:
    branch = one_crew(crews=500, reserve_share=0.12)
    taken = full(minutes=int(500 * 480 * 0.88))
    one = freed(a_clean(), open_nights(), branch, taken)
    assert one.relaxation is not None
    assert one.relaxation.kind is RelaxationKind.RESERVE
    assert one.relaxation.amount == 500 * 480 - int(500 * 480 * 0.88)
    assert one.mend == f"give up the reserve for calls on {one.relaxation.on}"


def test_a_site_without_any_night_is_opened_one() -> None:
    one = freed(a_clean(), nights_of([]))
    assert one.binds is Constraint.OPEN_NIGHT
    assert one.relaxation is not None
    assert (one.relaxation.kind, one.relaxation.on) == (RelaxationKind.OPEN, ahead(2))


def test_where_every_night_has_a_visit_that_fills_it_that_is_what_binds() -> None:
    nights = nights_of([a_night(ahead(2), minutes=150)])
    filling = a_due(zone="B", minutes=200, earliest=ahead(1), target=ahead(2), latest=ahead(2))
    one = freed(a_clean(minutes=180, latest=ahead(3)), nights, beside=[filling])
    assert one.binds is Constraint.TAKEN


def test_what_no_single_change_frees_keeps_its_mend_and_says_so() -> None:
    branch = one_crew(crews=0)
    nights = nights_of([a_night(ahead(2), permits={"wet"})])
    one = freed(a_clean(needs=frozenset({"dust"})), nights, branch)
    assert one.binds is Constraint.PERMIT
    assert one.relaxation is None
    assert one.mend.endswith("; no single change that was tried is enough")


@pytest.mark.parametrize("crews", [1, 2])
def test_every_relaxation_named_does_free_the_work_and_a_smaller_crew_does_not(crews: int) -> None:
    branch = one_crew(crews=crews)
    used = full(minutes=480 * crews)
    one = freed(a_clean(), open_nights(), branch, used)
    assert one.relaxation is not None
    without, _ = planned([one.due], open_nights(), replace(branch, crews=crews + 1), used)
    assert without == ()
    without, _ = planned([one.due], open_nights(), branch, used)
    assert [u.due for u in without] == [one.due]


def test_nothing_is_lost_and_what_is_too_much_to_try_still_says_what_binds() -> None:
    site = open_nights()
    visits = [asked("NORTH", 60 + n, 1, 2, 3, nights=site) for n in range(MOST_WORKS_TRIED + 9)]
    placed = place_levelled(visits, one_crew(), full())
    assert len(placed.unplaced) == len(visits)
    told = with_relaxations(placed.unplaced, left(site, one_crew(), placed))
    assert [one.due for one in told] == [one.due for one in placed.unplaced]
    assert all(one.binds is Constraint.CREWS for one in told)
    assert sum(one.relaxation is None for one in told) == 9
    assert all(one.why and one.mend for one in told)
