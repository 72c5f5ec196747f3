"""Every error a person may be shown, as one small tree.

    FloorcareError            never raised itself
    ├─ NotUnderstood          input cannot be read                    exit 3
    ├─ NotKnown               no such site, zone, visit               exit 4
    ├─ NotAllowed             a rule of the trade forbids it          exit 5
    ├─ Clash                  changed by somebody else meanwhile      exit 6
    └─ StoreTrouble           database missing, too old, locked       exit 7

A message says what, where, which value, what is allowed and what to do, in a sentence or two.
Anything else that escapes is our bug: exit 70.
"""

from floorcare.findings import Finding


class FloorcareError(Exception):
    """Root of the tree; `message` is written for people, `where` names the place."""

    exit_code = 70

    def __init__(
        self, message: str, *, where: str = "", findings: tuple[Finding, ...] = ()
    ) -> None:
        super().__init__(message)
        self.message = message
        self.where = where
        self.findings = findings

    def __str__(self) -> str:
        return f"{self.where}: {self.message}" if self.where else self.message


class NotUnderstood(FloorcareError):
    """Input cannot be read; `findings` lists every problem of every file at once."""

    exit_code = 3


class NotKnown(FloorcareError):
    """There is no such site, zone or visit."""

    exit_code = 4


class NotAllowed(FloorcareError):
    """A rule of the trade or of a contract forbids it."""

    exit_code = 5


class Clash(FloorcareError):
    """Somebody changed the same thing meanwhile."""

    exit_code = 6


class StoreTrouble(FloorcareError):
    """The database is missing, too old, locked, or not ours."""

    exit_code = 7
