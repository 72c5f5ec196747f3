from dataclasses import replace

from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.faces.cli.week_account import weeks
from floorcare.services.week_sheet import FittedWeek
from tests.golden.week import WEEK_SHEET

WEEK = FittedWeek(sheet=WEEK_SHEET)


def test_the_answer_comes_first_and_every_crews_night_follows():
    lines = weeks((WEEK,), (), written=False).splitlines()
    assert lines[0] == "Riverside: 6 visits on 5 crew-nights this week; 2 fit no crew."
    at = lines.index("  Mon 2 Mar, Larch (Mara Quill, Tom Reed)")
    assert lines[at + 1 : at + 5] == [
        "    21:40                   sets out",
        "    22:00 to Tue 01:15      MARKET        recoat LANE-1, LANE-2; reading round EDGE",
        "                            20 min drive; held, agreed",
        "                            takes Scrubber R-SC1, Burnisher R-BU1",
    ]
    assert "    Tue 04:35               back" in lines


def test_a_crew_night_without_a_visit_is_not_told():
    assert "Fri 6 Mar" not in weeks((WEEK,), (), written=False)


def test_what_fits_no_crew_is_numbered_with_its_reason_and_mend():
    said = weeks((WEEK,), (), written=False)
    assert (
        "  2. CLINIC, Thu 5 Mar: recoat WARD-2\n"
        "     fits no crew: Tom Reed's 'hygiene training' expired on 3 March 2026.\n"
        "     Would help: renew 'hygiene training' for Tom Reed.\n"
    ) in said


def test_another_hour_and_another_clock_are_told():
    said = weeks((WEEK,), (), written=False)
    assert "25 min drive; held, agreed; planned 19:00" in said
    assert "21:10 to 02:20 by the site's clock" in said


def test_what_was_not_checked_and_where_the_papers_lie_close_the_account(tmp_path):
    said = weeks((WEEK,), (tmp_path / "week.pdf",), written=False)
    assert "  No machine is entered of these kinds, so they are not checked: wet vacuum." in said
    assert said.endswith(f"Written: {tmp_path / 'week.pdf'}")


def test_each_branch_has_its_paragraph():
    other = FittedWeek(sheet=replace(WEEK_SHEET, branch="Hill", placed=0, nights=(), unfitted=()))
    assert "\n\nHill: No visits this week." in weeks((WEEK, other), (), written=False)


def test_where_no_branch_is_entered_the_next_step_is_told():
    assert weeks((), (), written=False) == NO_BRANCH
