from dataclasses import replace

from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.rules.coats import coat_findings, within_coat_limit
from floorcare.ground.trade.book import TreatmentDone
from floorcare.ground.trade.surface import Surface
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.visit import Due
from tests.builders import DAY, TODAY, a_book, a_case, a_due, polished

LIMIT = polished().coat_limit


def coated(coats: int, surface: Surface | None = None, **more: object) -> ZoneCase:
    """A zone nobody reads, with so many coats on it."""
    done = tuple(
        TreatmentDone(work=Work.RECOAT, done_on=TODAY - 30 * (n + 1) * DAY) for n in range(coats)
    )
    book = a_book(done=done, readings=(), promises=(), routines=())
    return a_case(book, surface=surface or polished(), **more)


def recoat(days: int, slack: int = 5) -> Due:
    on = TODAY + days * DAY
    return a_due(Work.RECOAT, earliest=on - slack * DAY, target=on, latest=on + slack * DAY)


def without(*works: Work) -> Surface:
    methods = {work: rung for work, rung in polished().methods.items() if work not in works}
    ladder = tuple(work for work in polished().ladder if work not in works)
    return replace(polished(), methods=methods, ladder=ladder)


def test_below_the_limit_a_recoat_is_a_recoat() -> None:
    due = recoat(20)
    assert within_coat_limit(coated(LIMIT - 1), [due]) == (due,)


def test_at_the_limit_a_strip_goes_before_the_recoat() -> None:
    due = recoat(20)
    strip, coat = within_coat_limit(coated(LIMIT), [due])
    assert (strip.work, coat.work) == (Work.STRIP, Work.RECOAT)
    # by their windows alone the strip is never after its coat
    assert strip.latest == due.target == coat.earliest
    assert (strip.earliest, coat.latest) == (due.earliest, due.latest)
    assert strip.reason.rule == "coat limit"
    assert strip.reason.inside == (
        f"Strip for Hall B: {LIMIT} protector coats will lie on the floor, and {LIMIT} are the "
        "most; the film comes off before the coat of 22 March 2026."
    )
    assert strip.reason.rejected == (
        ("recoat", f"{LIMIT} coats lie already, {LIMIT} are the most"),
    )


def test_where_the_coat_has_no_night_but_its_own_the_strip_comes_on_one_before() -> None:
    due = recoat(20)
    nights = tuple(TODAY + n * DAY for n in (14, 17, 20, 23))
    strip, coat = within_coat_limit(coated(LIMIT, nights=nights), [due])
    assert (strip.latest, coat.earliest) == (due.target, due.target)
    strip, coat = within_coat_limit(coated(LIMIT, nights=nights[:3]), [due])
    assert (strip.target, strip.latest) == (nights[1], nights[1])
    assert coat.earliest == due.target
    strip, _ = within_coat_limit(coated(LIMIT, nights=nights[2:3]), [due])
    assert strip.latest == due.target


def test_the_coats_of_the_horizon_count_and_what_takes_them_off_too() -> None:
    works = [d.work for d in within_coat_limit(coated(LIMIT - 1), [recoat(20), recoat(80)])]
    assert works == [Work.RECOAT, Work.STRIP, Work.RECOAT]
    polish = a_due(Work.REPOLISH, target=TODAY + 50 * DAY)
    works = [d.work for d in within_coat_limit(coated(LIMIT - 1), [recoat(80), polish, recoat(20)])]
    assert works == [Work.RECOAT, Work.REPOLISH, Work.RECOAT]
    # after its strip the floor is coated once, and counts on from there
    works = [d.work for d in within_coat_limit(coated(LIMIT), [recoat(20), recoat(80)])]
    assert works == [Work.STRIP, Work.RECOAT, Work.RECOAT]


def test_what_stands_counts_as_done() -> None:
    stands = TreatmentDone(work=Work.RECOAT, done_on=TODAY + 10 * DAY)
    case = coated(LIMIT - 1, standing=(stands,))
    assert [d.work for d in within_coat_limit(case, [recoat(30)])] == [Work.STRIP, Work.RECOAT]
    strips = replace(stands, work=Work.STRIP)
    assert len(within_coat_limit(coated(LIMIT, standing=(strips,)), [recoat(30)])) == 1


def test_a_coat_that_is_begun_is_finished() -> None:
    begun = a_due(Work.RECOAT, target=TODAY + DAY, rule="work begun")
    assert within_coat_limit(coated(LIMIT), [begun]) == (begun,)


def test_a_strip_that_ends_with_coats_of_its_own_stands_in_the_recoat_s_place() -> None:
    strip = polished().methods[Work.STRIP]
    coating = replace(strip, effect=replace(strip.effect, film_to=1.0))
    surface = replace(polished(), methods={**polished().methods, Work.STRIP: coating})
    (due,) = within_coat_limit(coated(LIMIT, surface), [recoat(20)])
    assert (due.work, due.earliest, due.latest) == (
        Work.STRIP,
        recoat(20).earliest,
        recoat(20).latest,
    )


def test_without_a_strip_the_rung_that_takes_the_film_off_stands_in_its_place() -> None:
    (due,) = within_coat_limit(coated(LIMIT, without(Work.STRIP)), [recoat(20)])
    assert due.work is Work.REPOLISH
    assert (due.earliest, due.latest) == (recoat(20).earliest, recoat(20).latest)


def test_where_nothing_takes_the_film_off_the_coat_stays_and_is_named() -> None:
    bare = without(Work.STRIP, Work.REPOLISH, Work.FULL_RESTORATION)
    case, dues = coated(LIMIT - 1, bare), (recoat(20), recoat(80))
    assert within_coat_limit(case, dues) == dues
    (found,) = coat_findings(case, dues)
    assert found.weight == "asks"
    assert f"from {dues[1].target} on" in found.problem
    assert coat_findings(case, dues[:1]) == ()
    assert coat_findings(coated(LIMIT), dues) == ()
