import pytest

from floorcare.ground.trade.site import TravelLeg


def test_a_drive_is_from_one_place_to_another_and_the_branch_is_left_empty(full):
    assert full.right().legs == (
        TravelLeg(branch="NORTH", leaves="", reaches="MARKET", minutes=28, km=19.5),
    )


def test_the_way_back_may_be_typed_as_well_and_km_left_out(full):
    full.add("travel.csv", "NORTH,MARKET,,35,")
    out, back = full.right().legs
    assert (out.reaches, back.leaves) == ("MARKET", "MARKET")
    assert (back.minutes, back.km) == (35, None)


@pytest.mark.parametrize(
    ("row", "column", "value", "problem", "mend"),
    [
        ("NORTH,MARKET,,-3,2", "minutes", "-3", "a drive is never negative", "correct the sign"),
        ("NORTH,MARKET,,35,-2", "km", "-2", "a drive is never negative", "correct the sign"),
        ("NORT,MARKET,,35,", "branch", "NORT", "there is no branch of", 'write "NORTH" if'),
        ("NORTH,MARKT,,35,", "from", "MARKT", "there is no site of", 'write "MARKET" if'),
        ("NORTH,,QUAY,35,", "to", "QUAY", "there is no site of", "add it to sites.csv or"),
        ("NORTH,MARKET,MARKET,3,", "to", "MARKET", "the drive leads from MARKET to", "name anoth"),
        ("NORTH,,,3,", "to", "", "the drive leads from the branch to itself", "name another"),
        ("NORTH,,MARKET,30,", "to", "MARKET", "this drive is given twice", "leave one of the"),
    ],
)
def test_a_drive_that_cannot_be_is_asked_about_and_left_out(
    full, row, column, value, problem, mend
):
    full.add("travel.csv", row)
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("travel.csv", 3, column)
    assert (finding.value, finding.weight) == (value, "asks")
    assert finding.problem.startswith(problem)
    assert finding.mend.startswith(mend)
    assert [leg.minutes for leg in full.read().portfolio.legs] == [28]


def test_a_cell_that_is_no_number_stops_as_in_any_file(full):
    full.change("travel.csv", "28", "half an hour")
    assert full.one().weight == "stops"


def test_pairs_nobody_typed_are_one_finding_that_counts_them(full):
    sites = (f"S-{n},HARBOUR,Site {n},NORTH,Europe/Berlin,54.3,12.{n}" for n in (1, 2, 3))
    full.add("sites.csv", *sites)
    full.add("access_windows.csv", *(f"S-{n},Mo-Fr,22:00,06:00,loud" for n in (1, 2, 3)))
    found = [f for f in full.findings() if f.file == "travel.csv"]
    assert [(f.row, f.column, f.value, f.weight) for f in found] == [(2, "branch", "NORTH", "asks")]
    assert found[0].problem == (
        "of 10 pairs of places of this branch 9 are not typed: "
        "NORTH to S-1, NORTH to S-2, NORTH to S-3 and 6 more"
    )
    assert found[0].mend == "add a row for each; until then the map fills them"


# Branch and market lie 12.9 km apart in a straight line: 23 minutes by the map, 5.9 at 130 km/h.
@pytest.mark.parametrize(
    ("minutes", "km", "column", "problem"),
    [
        (115, "", "", ""),
        (116, "", "minutes", "the drive is over 5 times as long as the map's: the map says 23 min"),
        (5, "", "", ""),
        (
            4,
            "",
            "minutes",
            "the drive would need more than 130 km/h: the map says 23 min and 13 km",
        ),
        (25, "12", "", ""),
        (25, "11", "km", "the road is shorter than the straight line"),
    ],
)
def test_a_drive_wildly_unlike_the_map_is_asked_about_and_taken_as_typed(
    full, minutes, km, column, problem
):
    full.change("travel.csv", "28,19.5", f"{minutes},{km}")
    taken = full.read()
    assert [(f.column, f.weight) for f in taken.findings] == ([(column, "asks")] if column else [])
    assert all(f.problem.startswith(problem) and f.mend for f in taken.findings)
    assert taken.portfolio.legs[0].minutes == minutes
