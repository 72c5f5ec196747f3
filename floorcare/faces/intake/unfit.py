"""What a cell's reader says when the text does not fit."""

from floorcare.faces.intake.notes import Mend


class Unfit(ValueError):
    """A cell that does not fit: what is wrong, what is allowed and the mend."""

    def __init__(self, problem: str, allowed: str, mend: Mend = "") -> None:
        super().__init__(problem)
        self.problem = problem
        self.allowed = allowed
        self.mend = mend
