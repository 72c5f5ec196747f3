"""What was taken in from a folder or a sheet."""

from dataclasses import dataclass
from typing import Literal

from floorcare.findings import Finding
from floorcare.ground.trade.book import Portfolio


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """The portfolio that was read, and everything that is wrong with the files.

    findings : of all files; while one of them "stops", the portfolio lacks what it is about and
        nothing may be written.
    files : names of the files read, in the order they were read.
    rows : rows read, headings and blank rows not counted.
    kind : whether it was a folder of files or a five-column sheet.
    """

    portfolio: Portfolio
    findings: tuple[Finding, ...]
    files: tuple[str, ...]
    rows: int
    kind: Literal["folder", "sheet"]

    @property
    def stops(self) -> bool:
        """Whether anything found forbids writing."""
        return any(finding.weight == "stops" for finding in self.findings)
