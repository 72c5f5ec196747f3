"""What a cell's reader says when the text does not fit."""

from collections.abc import Callable, MutableMapping
from typing import TypeVar

from floorcare.faces.intake.notes import Mend

Key = TypeVar("Key")
Value = TypeVar("Value")


class Unfit(ValueError):
    """A cell that does not fit: what is wrong, what is allowed and the mend."""

    def __init__(self, problem: str, allowed: str, mend: Mend = "") -> None:
        super().__init__(problem)
        self.problem = problem
        self.allowed = allowed
        self.mend = mend


def read_once(
    known: MutableMapping[Key, "Value | Unfit"], key: Key, read: Callable[[], Value]
) -> Value:
    """What a text reads as, read the first time it is met and remembered, its trouble too.

    Raises
    ------
    Unfit : it did not fit, now or before.
    """
    if key not in known:
        try:
            known[key] = read()
        except Unfit as trouble:
            known[key] = trouble
    found = known[key]
    if isinstance(found, Unfit):
        raise found
    return found
