from floorcare.services.load_out_sheet import load_out_sheet
from tests.builders import a_branch
from tests.golden.loads import MONDAY, NIGHT


def test_a_sheet_speaks_the_branchs_name_and_units():
    sheet = load_out_sheet(a_branch(units="US"), MONDAY, (NIGHT,), as_of="today")
    assert (sheet.branch, sheet.branch_code, sheet.units) == ("East", "EAST", "US")
    assert (sheet.nights, sheet.week, sheet.as_of) == ((NIGHT,), None, "today")
