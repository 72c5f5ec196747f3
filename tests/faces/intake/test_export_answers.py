from floorcare.faces.intake.export_answers import asked_of_counts, count_answers, reading_answers
from floorcare.faces.intake.export_mapping import ExportMapping, Question
from floorcare.services.record_traffic import RecordedTraffic


def test_answers_about_readings_come_with_the_lines_that_give_them():
    said = {"answers": {"copied": "take"}}
    answers = reading_answers(ExportMapping("readings", said))
    assert (answers.copied, answers.other_values) == ("take", "")
    assert 'other_values = "replace"' in answers.mends[0]
    assert 'copied = "take"' in answers.mends[1]


def test_answers_about_counts_are_read_from_their_two_tables():
    said = {"answers": {"stuck": "leave out"}, "counting": {"absent_weekdays": "zero"}}
    answers = count_answers(ExportMapping("traffic", said))
    assert (answers.stuck, answers.absent_weekdays, answers.jumps) == ("leave out", "zero", "")


def test_what_counting_asks_becomes_questions():
    recorded = RecordedTraffic(questions=(("answers", "stuck", ("take", "leave out")),))
    assert asked_of_counts(recorded) == (Question("answers", "stuck", ("take", "leave out")),)
