import pytest

from floorcare import errors
from floorcare.errors import FloorcareError
from floorcare.findings import Finding

CODES = {
    errors.NotUnderstood: 3,
    errors.NotKnown: 4,
    errors.NotAllowed: 5,
    errors.Clash: 6,
    errors.StoreTrouble: 7,
}


def test_every_error_has_its_own_exit_code_and_the_root_is_our_fault():
    assert {kind: kind.exit_code for kind in CODES} == CODES
    assert FloorcareError.exit_code == 70


def test_the_tree_drawn_in_the_docstring_is_the_tree():
    kinds = {
        kind
        for kind in vars(errors).values()
        if isinstance(kind, type)
        and issubclass(kind, FloorcareError)
        and kind is not FloorcareError
    }
    assert kinds == set(CODES)
    drawn = {}
    for line in errors.__doc__.splitlines():
        if "─ " in line:
            words = line.split("─ ")[1].split()
            drawn[words[0]] = int(words[-1])
    assert drawn == {kind.__name__: code for kind, code in CODES.items()}


@pytest.mark.parametrize("kind", CODES)
def test_an_error_says_where_and_what(kind):
    error = kind("two lines are alike", where="zones.csv")
    assert str(error) == "zones.csv: two lines are alike"
    assert str(kind("two lines are alike")) == "two lines are alike"
    assert (error.message, error.where, error.findings) == ("two lines are alike", "zones.csv", ())
    with pytest.raises(FloorcareError):
        raise error


def test_an_error_carries_every_finding_behind_it():
    found = (Finding(problem="a"), Finding(problem="b"))
    assert errors.NotUnderstood("2 problems", findings=found).findings == found
