from floorcare.faces.intake.unfit import Unfit


def test_it_carries_what_is_wrong_what_is_allowed_and_the_mend():
    trouble = Unfit("is not a date", "2026-03-12", "write it so")
    assert str(trouble) == "is not a date"
    assert (trouble.problem, trouble.allowed, trouble.mend) == (
        "is not a date",
        "2026-03-12",
        "write it so",
    )
