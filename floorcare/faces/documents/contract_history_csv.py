"""A contract's term as a table: a row for each zone, work and night, done, read or planned."""

from floorcare.faces.documents.cells import Row, csv_bytes
from floorcare.ground.contracts.history import TermRow
from floorcare.services.show_contracts import ContractHistory

HEADER = (
    *("contract", "term from", "term to", "site", "site name", "zone", "zone name", "night"),
    *("date known", "about days", "what", "work", "share of zone %", "measure", "value"),
    *("stations", "state when read", "share of reference %", "limit", "passes", "by", "visit"),
)


def write_contract_history_csv(history: ContractHistory) -> bytes:
    """The history as CSV, figures as numbers, shares as per cent."""
    names = dict(history.sites)
    return csv_bytes(HEADER, (_row(row, history, names) for row in history.rows))


def _row(row: TermRow, history: ContractHistory, names: dict[str, str]) -> Row:
    summary = history.summary
    passes = "" if row.passes is None else ("yes" if row.passes else "no")
    return (
        *(summary.contract, summary.starts_on, summary.ends_on),
        *(row.site, names.get(row.site, row.site), f"{row.site}/{row.zone}", row.zone_name),
        *(row.on, row.known.value, row.about_days or None, row.kind.value, row.work.value),
        None if row.share is None else round(100 * row.share, 1),
        row.measure,
        None if row.value is None else round(row.value, 2),
        row.stations or None,
        row.state.value if row.state else "",
        None if row.reference_share is None else round(100 * row.reference_share, 1),
        *(row.limit, passes, row.performer, row.visit),
    )
