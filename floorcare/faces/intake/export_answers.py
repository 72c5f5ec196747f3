"""What a mapping answers for the services that judge, and what they ask of it."""

from floorcare.faces.intake.export_mapping import ExportMapping, Question
from floorcare.services.record_readings import ReadingAnswers
from floorcare.services.record_traffic import CountAnswers, RecordedTraffic

_OTHER = Question("answers", "other_values", ("replace", "keep stored"))
_COPIED = Question("answers", "copied", ("take", "leave out"))


def reading_answers(mapping: ExportMapping) -> ReadingAnswers:
    """What the mapping answers about readings that stand otherwise or look copied."""
    said = {key: mapping.get("answers", key) for key in ("other_values", "copied")}
    return ReadingAnswers(**said, mends=(_OTHER.mend, _COPIED.mend))  # type: ignore[arg-type]


def count_answers(mapping: ExportMapping) -> CountAnswers:
    """What the mapping answers about doubtful days and counts that stand otherwise."""
    keys = ("zero_days", "stuck", "jumps", "counted_before")
    said = {key: mapping.get("answers", key) for key in keys}
    return CountAnswers(
        **said,  # type: ignore[arg-type]
        absent_weekdays=mapping.get("counting", "absent_weekdays"),  # type: ignore[arg-type]
    )


def asked_of_counts(recorded: RecordedTraffic) -> tuple[Question, ...]:
    """The questions that counting asks."""
    return tuple(Question(*question) for question in recorded.questions)
