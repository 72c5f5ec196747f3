import pytest

from floorcare.faces.intake.unfit import Unfit, read_once


def test_it_carries_what_is_wrong_what_is_allowed_and_the_mend():
    trouble = Unfit("is not a date", "2026-03-12", "write it so")
    assert str(trouble) == "is not a date"
    assert (trouble.problem, trouble.allowed, trouble.mend) == (
        "is not a date",
        "2026-03-12",
        "write it so",
    )


def test_a_text_is_read_once_and_its_trouble_told_each_time():
    known: dict[str, int | Unfit] = {}
    asked = []

    def read(text: str) -> int:
        asked.append(text)
        if not text.isdigit():
            raise Unfit("is no number", "digits")
        return int(text)

    assert [read_once(known, "12", lambda: read("12")) for _ in range(2)] == [12, 12]
    for _ in range(2):
        with pytest.raises(Unfit, match="is no number"):
            read_once(known, "twelve", lambda: read("twelve"))
    assert asked == ["12", "twelve"]
