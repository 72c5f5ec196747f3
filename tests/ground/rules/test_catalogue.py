import pytest

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.catalogue import (
    RULES,
    barred_visits,
    calendar_dues,
    case_findings,
    with_retests,
)
from floorcare.ground.rules.wear_dues import forecast, walked_dues
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.make_up import Season
from floorcare.ground.trade.people import CallKind
from floorcare.ground.trade.promise import Policy
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.fleet import fit_fleet
from tests.builders import (
    DAY,
    TODAY,
    a_book,
    a_case,
    a_due,
    a_zone,
    look_promised,
    polished,
    read_down,
    routinely,
    slip_promised,
    slip_read,
)
from tests.called import a_call, an_open_call

HABITS = (
    routinely(Work.BURNISH, "FREQ=MONTHLY", starts_on=TODAY - 20 * DAY),
    routinely(Work.CLEAN, "FREQ=MONTHLY", starts_on=TODAY - 20 * DAY),
    routinely(Work.DEEP_SCRUB, "FREQ=MONTHLY;INTERVAL=2", starts_on=TODAY - 20 * DAY),
)


GRIT = Season(name="grit", from_month=11, from_day=1, to_month=3, to_day=31, factor=1.5)
CALLS = tuple(a_call(kind=kind) for kind in CallKind)
COATS = tuple(
    TreatmentDone(work=Work.RECOAT, done_on=TODAY - 30 * n * DAY)
    for n in range(1, polished().coat_limit + 1)
)
MOVE_OTHERS = {"shut weeks", "minimum age", "surface prohibitions", "fixed days"}
"""Rules that move, hold back or refuse what another rule asks for."""


def slippery(*failed: float) -> tuple:  # type: ignore[type-arg]
    weeks = len(failed)
    return tuple(slip_read(TODAY - 7 * (weeks - n) * DAY, v) for n, v in enumerate(failed))


def all_kinds_of_dues() -> list[Due]:
    """Dues of every rule there is."""
    worn = read_down(46.0, fall=1.2)
    zones = [
        a_case(a_book("A", readings=read_down(50.0))),
        a_case(a_book("B", readings=read_down(48.3), done=())),
        a_case(
            a_book(
                "C",
                readings=worn,
                done=(TreatmentDone(work=Work.FINE_BURNISH, done_on=TODAY - 10 * DAY),),
            )
        ),
        a_case(a_book("D", routines=HABITS, readings=(), promises=(slip_promised(),))),
        a_case(a_book("E", readings=slippery(0.40))),
        a_case(a_book("F", done=(TreatmentDone(work=Work.BURNISH, done_on=TODAY, share=0.4),))),
        a_case(a_book("G", routines=(), readings=(), promises=()), days=900),
        a_case(a_book("H", routines=(), seasons=(GRIT,)), calls=tuple(map(an_open_call, CALLS))),
        a_case(a_book("I", routines=(), readings=(), promises=(), done=COATS), days=900),
        a_case(
            a_book(
                "J",
                readings=read_down(50.0),
                promises=(look_promised(policy=Policy.CHEAPEST),),
            )
        ),
    ]
    fleet = fit_fleet([("NORTH", case.book) for case in zones], polished(), TODAY, draws=32)
    walked = walked_dues(fleet, zones, forecast(fleet, zones, 190), [0, 1, 2, 9])
    return [
        due
        for z, case in enumerate(zones)
        for due in with_retests(
            case, (*calendar_dues(case, by_wear=z in walked), *walked.get(z, ()))
        )
    ]


def test_every_rule_has_a_name_of_its_own_and_says_itself_in_sentences() -> None:
    assert len({rule.name for rule in RULES}) == len(RULES)
    assert all(rule.says.endswith(".") for rule in RULES)


def test_every_due_names_a_rule_of_the_catalogue_and_speaks_in_sentences() -> None:
    dues = all_kinds_of_dues()
    named = {due.reason.rule for due in dues}
    assert named <= {rule.name for rule in RULES}
    # escape and least cost are tried in their own tests; every other rule speaks here
    assert {rule.name for rule in RULES} - named <= {"ladder escape", "least cost", *MOVE_OTHERS}
    for due in dues:
        for sentence in (due.reason.inside, due.reason.customer):
            assert sentence.endswith(".")
            assert not sentence.endswith("..")
            assert sentence[0].isupper()
            assert "None" not in sentence
            assert "nan" not in sentence
        for word in ("break", "below", "promise", "GU"):
            assert word not in due.reason.customer


def works(case: ZoneCase, *, by_wear: bool = False) -> set[Work]:
    return {due.work for due in calendar_dues(case, by_wear=by_wear)}


def test_a_guarded_zone_gets_nothing_that_makes_gloss() -> None:
    free = a_case(a_book(routines=HABITS, readings=()))
    assert {Work.BURNISH, Work.CLEAN, Work.DEEP_SCRUB} <= works(free)
    guarded = a_case(a_book(routines=HABITS, readings=slippery(0.40)))
    assert works(guarded) == {Work.CLEAN, Work.SLIP_TEST, Work.DEEP_SCRUB, Work.READING_ROUND}
    capped = a_case(a_book(routines=(), readings=slippery(0.40), promises=()), days=900)
    assert works(capped) == {Work.CLEAN, Work.SLIP_TEST}


def test_after_a_passed_retest_all_is_as_before() -> None:
    passed = a_case(a_book(routines=HABITS, readings=slippery(0.40, 0.50)))
    assert Work.BURNISH in works(passed)
    assert Work.SLIP_TEST not in works(passed)


def test_even_work_begun_waits_while_a_zone_is_guarded() -> None:
    begun = (TreatmentDone(work=Work.BURNISH, done_on=TODAY, share=0.4),)
    assert Work.BURNISH in works(a_case(a_book(done=begun)))
    guarded = a_case(a_book(done=begun, readings=slippery(0.40)))
    assert works(guarded) == {Work.CLEAN, Work.SLIP_TEST, Work.READING_ROUND}


def test_caps_serve_only_zones_whose_ladder_is_not_walked() -> None:
    case = a_case(a_book(routines=(), promises=()), days=900)
    assert works(case) == {Work.RECOAT}
    assert works(case, by_wear=True) == set()


def test_work_begun_takes_the_place_of_its_own_rhythm() -> None:
    begun = (TreatmentDone(work=Work.BURNISH, done_on=TODAY, share=0.4),)
    case = a_case(a_book(routines=HABITS, done=begun, promises=()), days=60)
    rules = {due.reason.rule for due in calendar_dues(case, by_wear=True) if due.work == "burnish"}
    assert rules == {"work begun"}


@pytest.mark.parametrize(
    ("work", "tested"),
    [
        (Work.CLEAN, False),
        (Work.BURNISH, False),
        (Work.FINE_BURNISH, True),
        (Work.RECOAT, True),
        (Work.REPOLISH, True),
        (Work.DEEP_SCRUB, True),
        (Work.READING_ROUND, False),
    ],
)
def test_a_treatment_that_changes_the_surface_is_followed_by_a_test_where_slip_is_watched(
    work: Work, tested: bool
) -> None:
    due = a_due(work, target=TODAY + 9 * DAY)
    for book in (a_book(promises=(slip_promised(),)), a_book(readings=slippery(0.5))):
        found = with_retests(a_case(book), (due,))
        assert found[0] is due
        assert [d.work for d in found[1:]] == ([Work.SLIP_TEST] if tested else [])
        assert {d.target for d in found} == {due.target}
    assert with_retests(a_case(a_book()), (due,)) == (due,)


def test_a_zone_of_unknown_area_is_planned_too() -> None:
    case = a_case(a_book(zone=a_zone(area_m2=None), routines=HABITS))
    assert {due.area_m2 for due in calendar_dues(case, by_wear=False)} == {None}


def test_a_gloss_treatment_that_stands_on_a_guarded_zone_is_put_to_a_person() -> None:
    stands = tuple(
        TreatmentDone(work=work, done_on=TODAY + 9 * DAY)
        for work in (Work.BURNISH, Work.CLEAN, Work.DEEP_SCRUB, Work.SLIP_TEST)
    )
    guarded = a_case(a_book(readings=slippery(0.40)), standing=stands)
    (found,) = barred_visits(guarded)
    assert found.weight == "asks"
    assert f"a burnish stands for {TODAY + 9 * DAY}" in found.problem
    assert barred_visits(a_case(a_book(readings=slippery(0.60)), standing=stands)) == ()


def test_calls_are_answered_under_the_guard_too_but_not_by_a_gloss_treatment() -> None:
    calls = (an_open_call(),)
    assert Work.SPOT_REPAIR in works(a_case(a_book(), calls=calls))
    guarded = works(a_case(a_book(readings=slippery(0.40)), calls=calls))
    assert Work.CALL in guarded
    assert Work.SPOT_REPAIR not in guarded


def test_a_guarded_zone_is_scrubbed_after_its_season_all_the_same() -> None:
    book = a_book(routines=(), readings=slippery(0.40), seasons=(GRIT,))
    assert Work.DEEP_SCRUB in works(a_case(book))


def test_promised_slip_nobody_tested_is_tested_and_what_does_not_count_is_named() -> None:
    odd = slip_read(TODAY - DAY, 0.6, "dry DCOF")
    case = a_case(a_book(routines=(), readings=(odd,), promises=(slip_promised(),)))
    (test,) = [d for d in calendar_dues(case, by_wear=False) if d.work is Work.SLIP_TEST]
    assert test.reason.rule == "slip unknown"
    (found,) = case_findings(case, ())
    assert "by dry DCOF count for nothing (1, the last on 2026-03-01)" in found.problem


def test_all_that_a_person_must_decide_about_a_zone_is_found_together() -> None:
    stands = (TreatmentDone(work=Work.BURNISH, done_on=TODAY + 9 * DAY),)
    both = (slip_promised(0.45), slip_promised(0.50))
    case = a_case(a_book(readings=slippery(0.40), promises=both), standing=stands)
    assert [f.problem.split(":")[0][:24] for f in case_findings(case, ())] == [
        "NORTH/LANE",
        "NORTH/LANE is guarded fo",
    ]
