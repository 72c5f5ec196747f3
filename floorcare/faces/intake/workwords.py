"""Everyday spellings of works, as people type them in a spreadsheet."""

from floorcare.faces.intake.readers import Reader, member, one_of
from floorcare.ground.trade.treatment import TREATMENTS, Work

EVERYDAY: dict[str, str] = {
    spelling: work.value
    for work, spellings in {
        Work.CLEAN: "cleaning, daily clean, daily cleaning, mop, mopping, sweep, sweeping, "
        "dust mop, dust mopping, scrub, scrubbing, machine scrub, auto scrub, auto scrubbing",
        Work.BURNISH: "burnishing, buff, buffing, high speed burnish, high speed burnishing",
        Work.FINE_BURNISH: "fine burnishing, diamond burnish, diamond burnishing",
        Work.DEEP_SCRUB: "deep scrubbing, deep clean, deep cleaning",
        Work.RECOAT: "recoating, coat, coating, re-coat, re-coating, protector, protector coat, "
        "guard, guard coat, seal, sealing, reseal, resealing",
        Work.REPOLISH: "polish, polishing, repolishing, hone and polish",
        Work.STRIP: "stripping, strip protector",
        Work.DENSIFY: "densifying, densifier, harden, hardening, hardener",
        Work.FULL_RESTORATION: "restoration, restore, full restore, grind and polish, regrind",
        Work.SPOT_REPAIR: "spot repairs, stain, stains, stain removal, patch repair",
        Work.JOINT_REPAIR: "joint repairs, joints, joint filling, refill joints",
        Work.READING_ROUND: "reading, readings, gloss reading, gloss readings, measure, measuring",
        Work.SLIP_TEST: "slip tests, slip testing, slip reading, slip readings",
        Work.WALK: "walk through, walkthrough, site walk, inspection, inspect",
        Work.CALL: "call out",
    }.items()
    for spelling in spellings.split(", ")
}
"""Spelling to the work's word. Common practice, no source; "polish" means re-polish here."""

WORK = member(Work, EVERYDAY)
_TREATMENT_WORDS = [work.value for work in TREATMENTS]
_TREATMENT = one_of(
    _TREATMENT_WORDS, {s: word for s, word in EVERYDAY.items() if word in _TREATMENT_WORDS}
)
TREATMENT = Reader(lambda text, decimal: Work(_TREATMENT.read(text, decimal)), _TREATMENT.allowed)
