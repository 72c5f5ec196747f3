"""The commands that record what was read and counted: from an export, or typed by hand."""

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from floorcare import compose
from floorcare.errors import NotUnderstood
from floorcare.faces.cli.commands import DB, FINDINGS_REMAIN, JSON, TODAY, day_given, who_asks
from floorcare.faces.cli.telling import as_json, progress, say_findings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from floorcare.faces.intake.export_mapping import ExportMapping, Question
    from floorcare.faces.intake.export_readings import MeterExport
    from floorcare.faces.intake.export_traffic import CounterExport
    from floorcare.findings import Finding
    from floorcare.services.record_traffic import RecordedTraffic

record = typer.Typer(
    name="record",
    help="Record readings and traffic: from an instrument's export, or typed by hand.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
)

MAPPING = typer.Option(None, "--mapping", help="What the export's headings and words mean (TOML).")
SAVE = typer.Option(None, "--save-mapping", help="Write what was understood and asked here.")
CHECK = typer.Option(False, "--check", help="Say what would be written; write nothing.")
ZONE = typer.Option("", "--zone", help="By hand: the zone, as SITE/ZONE.")


@record.command("reading")
def record_reading(
    what: list[str] = typer.Argument(
        ..., metavar="EXPORT|VALUES", help="An export; with --zone, the station values in order."
    ),
    mapping: Path | None = MAPPING,
    save_mapping: Path | None = SAVE,
    zone: str = ZONE,
    on: str | None = typer.Option(None, "--on", help="By hand: the day (default today)."),
    at: str = typer.Option("", "--at", help="By hand: the time, HH:MM (default noon)."),
    state: str = typer.Option("", "--state", help="By hand: after cleaning, after burnish or wet."),
    geometry: int = typer.Option(0, "--geometry", help="By hand: 20, 60 or 85."),
    instrument: str = typer.Option("", "--instrument", help="By hand: the meter's code."),
    reader: str = typer.Option("", "--reader", help="By hand: who read."),
    witness: str = typer.Option("", "--witness", help="By hand: who looked on."),
    sure: bool = typer.Option(
        False, "--sure", help="By hand: write also what looks copied or stands otherwise."
    ),
    check: bool = CHECK,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Record gloss readings: a meter's export, or one round typed by hand.

    By hand the last value shows only after the new ones are written; "-" stands for a station that
    was not read.
    """
    if not zone:
        path = _export(what, (on, at, state, geometry, instrument, reader, witness, sure))
        _record_export(path, mapping, save_mapping, check=check, today=today, db=db, json=json)
        return
    from floorcare.faces.cli.record_round import Round, record_round

    _no_mapping(mapping, save_mapping)
    typed = Round(
        zone=zone,
        on=day_given(on if on is not None else today),
        at=at,
        state=state,
        geometry=geometry,
        instrument=instrument,
        reader=reader,
        witness=witness,
        values=tuple(what),
    )
    told = record_round(typed, db, today=day_given(today), who=who_asks(), sure=sure, check=check)
    typer.echo(as_json(told) if json else told.said)
    _leave(told.recorded.findings, json=json)


@record.command("traffic")
def record_traffic(
    what: list[str] = typer.Argument(
        ..., metavar="EXPORT|PER_DAY", help="An export; with --zone, the passes a day."
    ),
    mapping: Path | None = MAPPING,
    save_mapping: Path | None = SAVE,
    zone: str = ZONE,
    first: str | None = typer.Option(None, "--from", help="By hand: the first day."),
    last: str | None = typer.Option(None, "--to", help="By hand: the last day (default open)."),
    kind: str = typer.Option(
        "", "--kind", help="By hand: foot, trolley, pallet truck, lift truck."
    ),
    counted: bool = typer.Option(
        True, "--counted/--estimated", help="By hand: counted, or only an estimate."
    ),
    check: bool = CHECK,
    today: str | None = TODAY,
    db: str | None = DB,
    json: bool = JSON,
) -> None:
    """Record traffic: a people counter's export, or one figure typed by hand."""
    if zone:
        from floorcare.faces.cli.record_round import typed_traffic
        from floorcare.services.record_traffic import record_figure

        _no_mapping(mapping, save_mapping)
        if first is None:
            raise NotUnderstood("From which day? Write --from 2026-03-02.")
        site, code, row = typed_traffic(
            *(zone, kind, what, day_given(first), day_given(last) if last is not None else None),
            counted=counted,
        )
        with compose.opened(db) as store:
            recorded = record_figure(
                *(store, site, code, row), who=who_asks(), now=compose.now(), check=check
            )
        _tell_traffic(None, recorded, check=check, json=json)
        return
    path = _export(what, (first, last, kind))
    _record_counter(path, mapping, save_mapping, check=check, today=today, db=db, json=json)


def _export(what: list[str], by_hand: tuple[object, ...]) -> Path:
    """The one export that is named; values without a zone are told."""
    path = Path(what[0])
    if len(what) > 1 or any(by_hand):
        raise NotUnderstood(
            "Of which zone? Typed by hand, values want --zone SITE/ZONE; an export stands alone."
        )
    if not path.exists():
        raise NotUnderstood(
            "There is no such file. Name an export, or the zone of a typed value with --zone.",
            where=str(path),
        )
    return path


def _no_mapping(mapping: Path | None, save: Path | None) -> None:
    if mapping or save:
        raise NotUnderstood("--mapping and --save-mapping are of an export; leave --zone out.")


def _record_export(
    path: Path,
    mapping: Path | None,
    save: Path | None,
    *,
    check: bool,
    today: str | None,
    db: str | None,
    json: bool,
) -> None:
    from floorcare.faces.cli import record_account
    from floorcare.faces.intake.export_answers import reading_answers
    from floorcare.faces.intake.export_mapping import READINGS
    from floorcare.faces.intake.export_readings import read_meter_export
    from floorcare.services.read_books import read_books
    from floorcare.services.record_readings import record_readings

    on = day_given(today)
    said = _mapping(mapping, READINGS)
    with compose.opened(db) as store:
        books, meters = read_books(store)
        export = read_meter_export(path, said, books, meters, tell=progress("reading"))
        _save(save, export.mapping, export.questions)
        _stop_on_questions(path, export, save, json=json)
        recorded = record_readings(
            store,
            export.readings,
            file=path.name,
            today=on,
            who=who_asks(),
            now=compose.now(),
            answers=reading_answers(export.mapping),
            check=check,
        )
    findings = (*export.findings, *recorded.findings)
    if json:
        told = record_account.readings_told(export, recorded, check=check)
        typer.echo(as_json(told | {"findings": findings}))
    else:
        typer.echo(record_account.readings(export, recorded, check=check))
    _leave(findings, json=json)


def _record_counter(
    path: Path,
    mapping: Path | None,
    save: Path | None,
    *,
    check: bool,
    today: str | None,
    db: str | None,
    json: bool,
) -> None:
    from dataclasses import replace

    from floorcare.faces.intake.export_answers import asked_of_counts, count_answers
    from floorcare.faces.intake.export_mapping import TRAFFIC
    from floorcare.faces.intake.export_traffic import read_counter_export
    from floorcare.services.read_books import read_books
    from floorcare.services.record_traffic import record_counts

    on = day_given(today)
    said = _mapping(mapping, TRAFFIC)
    with compose.opened(db) as store:
        books, _ = read_books(store)
        export = read_counter_export(path, said, books, tell=progress("reading"))
        if export.questions or any(f.weight == "stops" for f in export.findings):
            _save(save, export.mapping, export.questions)
            _stop_on_questions(path, export, save, json=json)
        recorded = record_counts(
            store,
            export.counts,
            file=path.name,
            today=on,
            who=who_asks(),
            now=compose.now(),
            answers=count_answers(export.mapping),
            check=check,
        )
    export = replace(
        export,
        questions=asked_of_counts(recorded),
        findings=(*export.findings, *recorded.findings),
    )
    _save(save, export.mapping, export.questions)
    _stop_on_questions(path, export, save, json=json)
    _tell_traffic(export, recorded, check=check, json=json)


def _tell_traffic(
    export: "CounterExport | None", recorded: "RecordedTraffic", *, check: bool, json: bool
) -> None:
    from floorcare.faces.cli import record_account

    findings = export.findings if export else recorded.findings
    if json:
        told = record_account.traffic_told(export, recorded, check=check)
        typer.echo(as_json(told | {"findings": findings}))
    else:
        typer.echo(record_account.traffic(export, recorded, check=check))
    _leave(findings, json=json)


def _mapping(path: Path | None, kind: str) -> "ExportMapping":
    from floorcare.faces.intake.export_mapping import ExportMapping, read_mapping

    return read_mapping(path, kind) if path else ExportMapping(kind)


def _save(path: Path | None, mapping: "ExportMapping", questions: "Sequence[Question]") -> None:
    from floorcare.faces.cli.files import put
    from floorcare.faces.intake.export_mapping import mapping_text

    if path:
        put(path, mapping_text(mapping, questions).encode("utf-8"))


def _stop_on_questions(
    path: Path, export: "MeterExport | CounterExport", saved: Path | None, *, json: bool
) -> None:
    """Leave with everything told where something must be answered before anything is written."""
    stops = sum(1 for finding in export.findings if finding.weight == "stops")
    if not stops:
        return
    if json:
        told = {
            "written": 0,
            "mapping": export.mapping.tables,
            "questions": export.questions,
            "findings": export.findings,
        }
        typer.echo(as_json(told))
    if not export.questions:
        then = "mend the file and try again"
    elif saved:
        then = f"answer in {saved} and give it with --mapping"
    else:
        then = "answer in a mapping; --save-mapping FILE writes one to fill in"
    what = "question" if export.questions else "problem"
    many = f"{stops} {what}{'s' if stops > 1 else ''}"
    raise NotUnderstood(
        f"{many}; nothing was written. Next: {then}.",
        where=str(path),
        findings=() if json else export.findings,
    )


def _leave(findings: "Sequence[Finding]", *, json: bool) -> None:
    """Tell the findings, and leave with the code that says a person should look."""
    if not findings:
        return
    if not json:
        say_findings(findings)
    raise typer.Exit(FINDINGS_REMAIN)
