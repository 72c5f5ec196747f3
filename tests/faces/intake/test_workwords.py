import pytest

from floorcare.faces.intake.readers import folded
from floorcare.faces.intake.unfit import Unfit
from floorcare.faces.intake.workwords import EVERYDAY, TREATMENT, WORK
from floorcare.ground.trade.treatment import Work


@pytest.mark.parametrize(
    ("typed", "work"),
    [
        ("re-polish", Work.REPOLISH),
        ("Repolish", Work.REPOLISH),
        ("polish", Work.REPOLISH),
        ("Recoating", Work.RECOAT),
        ("burnishing", Work.BURNISH),
        ("Deep clean", Work.DEEP_SCRUB),
        ("daily cleaning", Work.CLEAN),
        ("gloss readings", Work.READING_ROUND),
        ("slip test", Work.SLIP_TEST),
    ],
)
def test_everyday_words_mean_a_work(typed, work):
    assert WORK.read(typed, ".") is work


def test_every_work_is_known_by_its_own_word():
    assert [WORK.read(work.value, ".") for work in Work] == list(Work)


def test_no_spelling_means_two_works():
    own = {folded(work.value): work.value for work in Work}
    for spelling, word in EVERYDAY.items():
        assert own.get(folded(spelling), word) == word


def test_an_unknown_word_is_refused():
    with pytest.raises(Unfit):
        WORK.read("make it nice", ".")


def test_a_treatment_is_no_other_work():
    assert TREATMENT.read("burnishing", ".") is Work.BURNISH
    with pytest.raises(Unfit):
        TREATMENT.read("walk", ".")
