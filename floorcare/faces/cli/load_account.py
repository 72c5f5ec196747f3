"""What `load` says: what was read, and what it changed or would change, row by row."""

from collections.abc import Iterable, Sequence
from itertools import groupby

from floorcare.faces.documents.wording import count
from floorcare.faces.intake.taken import Taken
from floorcare.services.load_care import Loaded
from floorcare.store.merge import RowChange

MOST_OF_A_KIND = 12
"""More changes of a kind are counted, not named; --json names them."""
LONGEST_TEXT = 40
"""A value is cut after so many characters."""
ORDER = ("changed", "ended", "withdrawn", "outranked", "added")
"""What touches a row that stood comes before what is new."""
OUTRANKED = "outranked"


def load_account(taken: Taken, loaded: Loaded | None, *, check: bool = False) -> str:
    """What was read, and what became of it, or would become of it.

    Parameters
    ----------
    loaded : None where there is no database to hold it against.
    check : only looked; nothing was written.
    """
    read = f"{count(taken.rows, 'row')} read from {count(len(taken.files), 'file')}"
    if loaded is None:
        return f"{read}; only looked, nothing was written. There is no database yet: all is new."
    if not loaded.changed_anything:
        nothing = "only looked, nothing would change" if check else "nothing changed"
        return "\n".join([f"{read}; {nothing}.", *_outranked(loaded.changes)])
    head = f"{read}; only looked, nothing was written." if check else f"{read} and written."
    lines = [head, "", *_counts(loaded, check=check)]
    if _adds_to_what_stood(loaded):
        lines += ["", *_changes(loaded)]
    lines += _outranked(loaded.changes)
    return "\n".join(
        [*lines, "", f"Next: {'the same without --check' if check else 'floorcare plan'}"]
    )


def _counts(loaded: Loaded, *, check: bool) -> list[str]:
    added, changed = ("to add", "to change") if check else ("added", "changed")
    touched = [row for row in loaded.counts if row[1] or row[2]]
    others = sum(1 for _, a, c, u in loaded.counts if u and not a and not c)
    return [
        f"  {'':22}{added:>10}{changed:>11}{'as before':>11}",
        *(f"  {k:22}{a:>10,}{c:>11,}{u:>11,}" for k, a, c, u in touched),
        *([f"  {count(others, 'other kind')} as before"] if others else []),
    ]


def _adds_to_what_stood(loaded: Loaded) -> bool:
    """False for a first load: where all is new, naming rows says nothing the counts do not."""
    return any(changed or same for _, _, changed, same in loaded.counts)


def _changes(loaded: Loaded) -> list[str]:
    """Every kind's changes, those of rows that stood first, and how many are not named."""
    many = {kind: added + changed for kind, added, changed, _ in loaded.counts}
    lines: list[str] = []
    for kind, changes in _by_kind(c for c in loaded.changes if c.what != OUTRANKED):
        lines.append(f"  {kind}")
        lines += [f"    {c.what:10}{c.key}{_fields(c)}" for c in changes[:MOST_OF_A_KIND]]
        lines += _more(max(many.get(kind, 0), len(changes)), len(changes))
    return lines


def _by_kind(changes: Iterable[RowChange]) -> list[tuple[str, list[RowChange]]]:
    ordered = sorted(changes, key=lambda c: (c.kind, ORDER.index(c.what)))
    return [(kind, list(of_kind)) for kind, of_kind in groupby(ordered, key=lambda c: c.kind)]


def _more(many: int, listed: int) -> list[str]:
    left = many - min(listed, MOST_OF_A_KIND)
    if left <= 0:
        return []
    named = "names all" if many <= listed else f"names the first {listed:,}"
    return [f"    … and {left:,} more (--json {named})"]


def _fields(change: RowChange) -> str:
    told = [
        f"{name} {_short(before)} → {_short(after)}"
        for name, before, after in change.fields
        if not (change.what == "withdrawn" and name == "withdrawn")
    ]
    return f": {'; '.join(told)}" if told else ""


def _outranked(changes: Sequence[RowChange]) -> list[str]:
    """What the folder says and the program knows better."""
    kept = [change for change in changes if change.what == OUTRANKED]
    if not kept:
        return []
    lines = [
        "",
        f"{count(len(kept), 'row')} of the folder not taken over: what was entered in the program "
        "outranks it. Correct the folder, or the program.",
    ]
    for kind, of_kind in _by_kind(kept):
        lines.append(f"  {kind}")
        for change in of_kind[:MOST_OF_A_KIND]:
            told = "; ".join(
                f"{name} stays {_short(before)}, the folder says {_short(after)}"
                for name, before, after in change.fields
            )
            lines.append(f"    {'kept':10}{change.key}{f': {told}' if told else ''}")
        lines += _more(len(of_kind), len(of_kind))
    return lines


def _short(text: str) -> str:
    if not text:
        return "empty"
    return text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - 1] + "…"
