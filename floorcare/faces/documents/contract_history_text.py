"""A contract's term as plain words, laid out afterwards by the page and the printed history.

The customer may read it: it holds readings, not estimates, and no fees.
"""

from collections.abc import Iterable, Sequence
from datetime import date

from floorcare.faces.documents import wording
from floorcare.ground.contracts.history import RowKind, TermRow, WorkCount
from floorcare.ground.contracts.lines import PromiseRow
from floorcare.ground.rules.reasons import said
from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.contract import Exclusion
from floorcare.ground.trade.promise import PromiseKind
from floorcare.ground.trade.treatment import TREATMENTS, WHOLE_ZONE_SHARE, Work
from floorcare.services.show_contracts import ContractHistory, TermSummary

Plain = dict[str, object]
_COUNTS = (
    ("Done", "done"),
    ("In part", "part_done"),
    ("Planned", "planned"),
    ("Nothing reported", "unreported"),
    ("No access", "no_access"),
)


def answer(history: ContractHistory) -> str:
    """The term in one sentence."""
    done = _counted(history.works, "done")
    planned = _counted(history.works, "planned")
    if not done and not planned:
        return "Nothing was done in this term, and nothing is planned."
    parts = [f"{done or 'Nothing'} done"]
    if planned and history.planned_to is not None:
        to = min(history.planned_to, history.summary.ends_on)
        parts.append(f"{planned} planned to {said(to)}")
    missed = sum(w.unreported for w in history.works)
    if missed:
        parts.append(f"nothing reported of {missed:,}")
    return "; ".join(parts) + "."


def as_text(history: ContractHistory) -> Plain:
    """Everything the history says, as nested dicts, lists and strings."""
    summary = history.summary
    span = f"{said(summary.starts_on)} to {said(summary.ends_on)}"
    names = dict(history.sites)
    return {
        "title": f"Visit history, contract {summary.contract}: {span}",
        "heading": wording.heading(summary.customer_name, summary.name or summary.contract),
        "span": span,
        "answer": wording.bound(answer(history)),
        "as_of": f"As of {said(history.on)}",
        "facts": [[name, text] for name, text in _facts(history, span) if text],
        "works": _works(history.works),
        "rhythms": [
            {
                "site": names.get(r.site, r.site),
                "work": str(r.work),
                "zones": str(r.zones),
                "who": f"{r.performer.value}, {r.proof.value}",
                "so_far": _number(r.so_far),
                "to_come": _number(r.to_come),
            }
            for r in history.rhythms
        ],
        "promises": [_promise(row) for row in history.promises],
        "exclusions": [_exclusion(e, names) for e in history.exclusions],
        "sites": [_site(code, name, history.rows) for code, name in history.sites],
    }


def _works(works: Sequence[WorkCount]) -> Plain:
    """The counts by work; columns in which nothing stands are left out."""
    always = [(name, column) for name, column in _COUNTS if column in ("done", "planned")]
    shown = [pair for pair in _COUNTS if pair in always or any(getattr(w, pair[1]) for w in works)]
    return {
        "heads": [name for name, _ in shown],
        "rows": [
            {"work": w.work.value, "counts": [_number(getattr(w, column)) for _, column in shown]}
            for w in works
        ],
    }


def _counted(works: Iterable[WorkCount], column: str) -> str:
    """ "14 treatments, 80 reading rounds": what of the works was done or is planned."""
    number = {w.work: getattr(w, column) for w in works}
    treatments = sum(n for work, n in number.items() if work in TREATMENTS)
    parts = [wording.count(treatments, "treatment")] if treatments else []
    parts += [
        wording.count(n, work.value) for work, n in number.items() if n and work not in TREATMENTS
    ]
    return " and ".join(filter(None, (", ".join(parts[:-1]), *parts[-1:])))


def _number(number: int) -> str:
    return f"{number:,}" if number else wording.NONE


def _facts(history: ContractHistory, span: str) -> Iterable[tuple[str, str]]:
    summary = history.summary
    yield "Customer", summary.customer_name
    yield "Sites", "; ".join(name for _, name in history.sites)
    yield "Term", f"{span}, {summary.state.value}" if summary.entered else _span_only(summary)
    yield "Then", f"The term {summary.then}." if summary.entered else ""
    if summary.our_notice_on and summary.their_notice_on:
        yield (
            "Notice",
            f"by the contractor up to {said(summary.our_notice_on)}, by the customer up to "
            f"{said(summary.their_notice_on)}, both days still in time",
        )
    yield "Cap", f"No term may pass {said(summary.cap_on)}." if summary.cap_on else ""


def _span_only(summary: TermSummary) -> str:
    span = f"{said(summary.starts_on)} to {said(summary.ends_on)}"
    return f"none entered; its promises run from {span}" if summary.zones else "none entered"


def _promise(row: PromiseRow) -> Plain:
    reference = ""
    if row.reference_gu is not None:
        on = f" on {said(row.reference_on)}" if row.reference_on else ""
        reference = f"{row.reference_gu:g} GU{on}, {row.reference_state}"
    kept = ""
    if row.kind is PromiseKind.APPEARANCE and row.confidence is not None:
        kept = f"policy {row.policy}, confidence {row.confidence:.0%}"
    return {
        "zone": row.zone,
        "name": row.zone_name,
        "kind": str(row.kind),
        "promised": wording.bound(row.promised),
        "reference": wording.bound(reference),
        "kept": kept,
        "read": wording.bound(row.read) or (wording.NONE if row.evidence else ""),
        "read_on": said(row.read_on) if row.read_on else "",
    }


def _exclusion(exclusion: Exclusion, names: dict[str, str]) -> Plain:
    where = names.get(exclusion.site, exclusion.site)
    if exclusion.zone:
        where = f"{exclusion.site}/{exclusion.zone}"
    return {
        "days": f"{said(exclusion.from_on)} to {said(exclusion.to_on)}",
        "where": where,
        "cause": exclusion.cause,
        "evidence": exclusion.evidence,
    }


def _site(code: str, name: str, rows: Iterable[TermRow]) -> Plain:
    mine = [row for row in rows if row.site == code]
    return {
        "site": code,
        "name": name,
        "past": _entries(row for row in mine if row.kind is not RowKind.PLANNED),
        "planned": _entries(row for row in mine if row.kind is RowKind.PLANNED),
    }


def _entries(rows: Iterable[TermRow]) -> list[Plain]:
    """A row for each night, work and outcome, its zones named in it."""
    together: dict[tuple[date, Work, RowKind, str], list[TermRow]] = {}
    for row in rows:
        together.setdefault((row.on, row.work, row.kind, _about(row)), []).append(row)
    order = list(Work)
    entries: list[Plain] = []
    before: date | None = None
    for (on, work, kind, about), group in sorted(
        together.items(), key=lambda pair: (pair[0][0], order.index(pair[0][1]), pair[0][2:])
    ):
        result = kind.value if kind in (RowKind.UNREPORTED, RowKind.NO_ACCESS) else ""
        entries.append(
            {
                "night": f"{wording.day_short(on)} {on.year}",
                "again": on == before,
                "about": about,
                "work": work.value,
                "zones": [wording.bound(_zone(row)) for row in group],
                "result": result,
                "by": ", ".join(sorted({row.performer for row in group if row.performer})),
            }
        )
        before = on
    return entries


def _about(row: TermRow) -> str:
    """ "about, ± 15 days" where the date is not known to the day."""
    if row.known is DateKnown.KNOWN:
        return ""
    return f"about, ± {wording.count(row.about_days, 'day')}" if row.about_days else "about"


def _zone(row: TermRow) -> str:
    if row.value is None:
        part = row.share is not None and row.share < WHOLE_ZONE_SHARE
        return f"{row.zone_name} ({row.share:.0%} of it)" if part else row.zone_name
    if row.work is Work.SLIP_TEST:
        verdict = ""
        if row.limit is not None:
            verdict = f", {'keeps' if row.passes else 'below'} {row.limit:g}"
        return f"{row.zone_name}: {row.measure} {row.value:g}{verdict}"
    if not row.measure.startswith("gloss"):
        return f"{row.zone_name}: {row.measure} {row.value:.1f}"
    said_as = "" if row.measure == "gloss 60°" else f" ({row.measure})"
    if row.reference_share is not None:
        against = f", {row.reference_share:.0%} of reference"
    else:
        against = f", {row.state.value}" if row.state else ""
    return f"{row.zone_name}: {row.value:.1f} GU{said_as}{against}"
