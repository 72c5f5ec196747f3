"""A contract's term made into files: its history, and its dates as a calendar."""

from pathlib import Path

from floorcare.faces.cli.files import file_stem, put
from floorcare.faces.documents.catalogue import CONTRACT_HISTORIES
from floorcare.faces.feeds.write import write_calendar
from floorcare.services.show_contracts import ContractHistory


def write_contract_history(history: ContractHistory, folder: Path) -> tuple[Path, ...]:
    """The history in every form of the catalogue, and the calendar where terms were entered."""
    summary = history.summary
    stem = file_stem("contract", summary.contract, summary.starts_on.isoformat())
    paths = [
        put(folder / f"{stem}{document.suffix}", document.write(history))
        for document in CONTRACT_HISTORIES
    ]
    if history.calendar is not None:
        calendar = folder / f"{file_stem('contract', summary.contract)}.ics"
        paths.append(put(calendar, write_calendar(history.calendar)))
    return tuple(paths)
