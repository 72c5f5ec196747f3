from datetime import date

from floorcare.faces.cli import record_account
from floorcare.faces.cli.record_account import MOST_ROUNDS, round_said
from floorcare.faces.intake.export_mapping import ExportMapping
from floorcare.faces.intake.export_readings import MeterExport
from floorcare.faces.intake.export_traffic import CounterExport
from floorcare.ground.trade.reading import Measure, RoundValue, SurfaceState
from floorcare.ground.trade.traffic import TrafficRow
from floorcare.ground.wear.books.last_rounds import RoundRead
from floorcare.services.record_readings import RecordedReadings
from floorcare.services.record_traffic import RecordedTraffic
from floorcare.store.merge import RowChange


def value(gu, on, measure=Measure.GLOSS):
    return RoundValue(
        zone="LANE",
        on=on,
        measure=measure,
        geometry_deg=60 if measure is Measure.GLOSS else 0,
        state=SurfaceState.AFTER_CLEANING,
        value=gu,
        stations=5,
    )


NOW = value(40.9, date(2026, 11, 24))
BESIDE = RoundRead(zone="NORTH/LANE", now=NOW, last=value(42.1, date(2026, 10, 1)))
METER = MeterExport(mapping=ExportMapping("readings"), rows=9, repeated=1, left_out=2)
COUNTER = CounterExport(mapping=ExportMapping("traffic"), rows=31, unread=("Battery",))
ROW = TrafficRow(
    kind="foot",
    per_day=1850.25,
    counted=True,
    from_on=date(2026, 10, 1),
    to_on=date(2026, 10, 31),
)


def test_a_round_is_said_beside_its_last():
    assert round_said(BESIDE) == (
        "NORTH/LANE gloss 60° after cleaning: last 42.1 GU on 1 October 2026; now 40.9 GU on "
        "24 November 2026"
    )
    first = RoundRead(zone="A/B", now=value(77.0, date(2026, 1, 2), Measure.DOI), last=None)
    assert round_said(first).endswith(
        "DOI after cleaning: 77.0 on 2 January 2026, the first of its kind"
    )


def test_an_export_is_told_by_its_numbers():
    recorded = RecordedReadings(written=5, known=3, left_out=1, rounds=(BESIDE,))
    text = record_account.readings(METER, recorded, check=False)
    assert text.splitlines()[:2] == [
        "9 rows read; 5 readings written.",
        "  3 known already, skipped; 1 repeated in the file, skipped; 1 left out and told below; "
        "2 rows left out by the mapping.",
    ]
    assert text.endswith("Next: floorcare plan")
    looked = record_account.readings(METER, recorded, check=True)
    assert "5 readings would be written." in looked
    assert looked.endswith("Next: the same without --check")


def test_nothing_written_has_no_next_step():
    recorded = RecordedReadings(written=0, known=5, left_out=0)
    assert "Next" not in record_account.readings(METER, recorded, check=False)


def test_many_rounds_are_counted():
    recorded = RecordedReadings(written=90, known=0, left_out=0, rounds=(BESIDE,) * 20)
    text = record_account.readings(METER, recorded, check=False)
    assert f"and {20 - MOST_ROUNDS} more rounds" in text


def test_counts_are_told_with_what_gives_way():
    ended = RowChange(
        kind="traffic",
        key="NORTH/LANE foot 2024-01-01",
        what="ended",
        fields=(("to_on", "", "2026-09-30"),),
    )
    recorded = RecordedTraffic(rows=(("NORTH/LANE", ROW),), days=30, left_out=1, changes=(ended,))
    lines = record_account.traffic(COUNTER, recorded, check=False).splitlines()
    assert lines == [
        "31 rows read, 30 counted days averaged; 1 row of traffic written.",
        "  1 left out of the counted days and told below.",
        "  Columns nothing is read from: Battery.",
        "  NORTH/LANE foot: 1,850.2 a day, counted, 1 October 2026 to 31 October 2026",
        "  What stood gives way:",
        "    ended     NORTH/LANE foot 2024-01-01: to_on empty → 2026-09-30",
        "",
        "Next: floorcare plan",
    ]


def test_a_figure_by_hand_that_stands_is_said_to():
    text = record_account.traffic(None, RecordedTraffic(known=1), check=False)
    assert text.splitlines() == ["0 rows of traffic written.", "  It stands already as it is."]
