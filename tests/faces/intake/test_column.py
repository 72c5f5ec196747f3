from floorcare.faces.intake.column import FILL_IN, MUST, WITHDRAWN, Column, must
from floorcare.faces.intake.readers import CODE


def test_a_required_column_says_so_and_is_filled_in():
    column = must("site", CODE)
    assert (column.empty, column.required, column.mend) == (MUST, True, FILL_IN)


def test_an_optional_column_stands_for_its_default():
    assert not Column("note", CODE, "none", "").required
    assert (WITHDRAWN.required, WITHDRAWN.default) == (False, False)
