"""What a column and a file of the folder are, and the columns that many files share."""

from dataclasses import dataclass
from typing import Any

from floorcare.faces.intake.readers import CODE, DAY, YES_NO, Reader

MUST = "required"
MAY = "empty"
FILL_IN = "fill it in"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, how its cells are read, and what an empty cell means.

    empty : "required", or what an empty cell means, in words.
    default : the value an empty cell stands for.
    also : other headings it is known by.
    mend : what to do where a required cell is empty.
    """

    name: str
    reader: Reader
    empty: str = MAY
    default: Any = None
    also: tuple[str, ...] = ()
    mend: str = FILL_IN

    @property
    def required(self) -> bool:
        """Whether the column must be there and every cell filled."""
        return self.empty == MUST


@dataclass(frozen=True, slots=True)
class FileKind:
    """One file of the folder.

    name : its name in the folder; what : what a row of it is.
    required : whether the folder must have it.
    codes : columns by whose codes rows of other files refer to it.
    """

    name: str
    what: str
    columns: tuple[Column, ...]
    required: bool = False
    codes: tuple[str, ...] = ()


def must(name: str, reader: Reader) -> Column:
    """A column whose every cell is filled."""
    return Column(name, reader, MUST)


SITE = must("site", CODE)
ZONE = must("zone", CODE)
ANY_ZONE = Column("zone", CODE, "every zone of the site")
TO_ON = Column("to_on", DAY, "no end")
WITHDRAWN = Column("withdrawn", YES_NO, "no", False)
"""A row that is taken back: what it names by its key no longer counts."""
