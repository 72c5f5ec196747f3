"""Collects the findings of all files of one taking-in, with a limit to what is shown of each."""

from collections import Counter
from collections.abc import Callable, Iterable
from difflib import get_close_matches
from typing import Literal

from floorcare.findings import Finding

SHOWN_PER_FILE = 200
"""Findings shown of one file; the rest is counted. Assumption: more is never read."""
SEARCHED_PER_FILE = 20
"""Findings of one file for which near words are searched; among thousands of codes that is slow."""

Weight = Literal["stops", "asks"]
Mend = str | Callable[[bool], str]
"""A mend, or what makes one; told False it must be quick about it."""


class Notes:
    """Findings as they are made, file by file; those that stop are kept before those that ask.

    files : names of files in the order their findings are to come; others follow as they are met.
    """

    def __init__(self, files: Iterable[str] = ()) -> None:
        self._kept: dict[tuple[str, Weight], list[Finding]] = {}
        self._count: Counter[tuple[str, Weight]] = Counter()
        self._files = list(files)

    def add(
        self,
        weight: Weight,
        file: str,
        row: int,
        problem: str,
        *,
        column: str = "",
        value: str = "",
        allowed: str = "",
        mend: Mend = "",
    ) -> None:
        """Note one problem; a `mend` that takes work is given as a function."""
        if file not in self._files:
            self._files.append(file)
        self._count[file, weight] += 1
        kept = self._kept.setdefault((file, weight), [])
        if len(kept) >= SHOWN_PER_FILE:
            return
        kept.append(
            Finding(
                problem=problem,
                file=file,
                row=row,
                column=column,
                value=value,
                allowed=allowed,
                mend=mend if isinstance(mend, str) else mend(len(kept) < SEARCHED_PER_FILE),
                weight=weight,
            )
        )

    @property
    def stops(self) -> bool:
        """Whether anything noted forbids writing."""
        return any(weight == "stops" for _, weight in self._count)

    def findings(self) -> tuple[Finding, ...]:
        """Everything noted: files in the order they were met, rows in order within each."""
        return tuple(finding for file in self._files for finding in self._of(file))

    def _of(self, file: str) -> list[Finding]:
        stops = self._kept.get((file, "stops"), [])
        asks = self._kept.get((file, "asks"), [])[: SHOWN_PER_FILE - len(stops)]
        unseen_stops = self._count[file, "stops"] - len(stops)
        unseen = unseen_stops + self._count[file, "asks"] - len(asks)
        shown = sorted(stops + asks, key=lambda finding: finding.row)
        if unseen:
            shown.append(
                Finding(
                    problem=f"and {unseen:,} more problems in this file",
                    file=file,
                    mend="mend those above, then look again",
                    weight="stops" if unseen_stops else "asks",
                )
            )
        return shown


def nearest(word: str, known: Iterable[str], otherwise: str) -> Callable[[bool], str]:
    """A mend that names the known words closest to a mistyped one, or says what else to do.

    >>> nearest("nroth", ["NORTH", "QUAY"], "add it")(True)
    'write "NORTH" if that is meant'
    >>> nearest("hall", ["NORTH", "QUAY"], "add it")(True)
    'add it'
    """

    def say(search: bool) -> str:
        if not search:
            return otherwise
        spelled = {each.casefold(): each for each in known}
        typed = word.casefold()[:80]
        close = get_close_matches(typed, spelled, n=1, cutoff=0.9)
        close = close or get_close_matches(typed, spelled, n=2, cutoff=0.6)
        if not close:
            return otherwise
        return "write " + " or ".join(f'"{spelled[c]}"' for c in close) + " if that is meant"

    return say
