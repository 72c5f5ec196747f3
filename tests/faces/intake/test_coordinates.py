import pytest

from floorcare.ground.trade.site import Branch

HEADING = "site,customer,name,branch,time_zone,latitude,longitude\n"
BRANCH = "branch,name,time_zone,latitude,longitude\nNORTH,North yard,Europe/Berlin,"


def site(code: str, place: str) -> str:
    return f"{code},HARBOUR,Hall {code},NORTH,Europe/Berlin,{place}\n"


def put(folder, *places: str) -> None:
    """The market and further sites at these coordinates, each with its hours and a zone."""
    codes = ["MARKET", *(f"S-{n}" for n in range(1, len(places)))]
    folder.write("sites.csv", HEADING + "".join(map(site, codes, places)))
    folder.add("access_windows.csv", *(f"{code},Sa,22:00,06:00,loud" for code in codes[1:]))
    zones = (f"{code},LANE,Lane,polished_concrete,90,heavy,HALL,2025-01-01" for code in codes[1:])
    folder.add("areas.csv", *(f"{code},HALL,Hall" for code in codes[1:]))
    folder.add("zones.csv", *zones)


def placed(folder) -> list[tuple[float | None, float | None]]:
    books = folder.read().portfolio.books
    return [(book.site.latitude, book.site.longitude) for book in books]


def test_sites_without_coordinates_are_one_finding_a_branch(folder):
    put(folder, "54.2,12.2", ",", ",", ",", ",")
    finding = folder.one()
    assert (finding.file, finding.row, finding.column) == ("sites.csv", 3, "latitude")
    assert finding.weight == "asks"
    assert finding.problem == (
        "no coordinates of S-1, S-2, S-3 and 1 more: 30 minutes are taken for the drive "
        "from branch NORTH"
    )
    assert "travel.csv" in finding.mend


def test_a_site_whose_drive_was_typed_needs_no_coordinates(full):
    full.write("sites.csv", HEADING + site("MARKET", ","))
    assert full.right().books[0].site.latitude is None


def test_a_branch_without_coordinates_is_asked_about_and_its_sites_are_not(folder):
    folder.write("branches.csv", BRANCH + ",\n")
    finding = folder.one()
    assert (finding.file, finding.row, finding.weight) == ("branches.csv", 2, "asks")
    assert finding.problem == (
        "no coordinates of branch NORTH: 30 minutes are taken for the drive to MARKET"
    )


@pytest.mark.parametrize(
    ("typed", "asked"),
    [
        ("12.2,54.2", "were the two swapped? Write latitude 54.2, longitude 12.2 if so"),
        ("54.2,-12.2", "was a sign lost? Write latitude 54.2, longitude 12.2 if so"),
        ("-54.2,12.2", "was a sign lost? Write latitude 54.2, longitude 12.2 if so"),
    ],
)
def test_coordinates_far_off_that_would_lie_near_as_meant_are_asked_about_and_not_taken(
    folder, typed, asked
):
    put(folder, typed, "54.3,12.3")
    finding = folder.one()
    assert (finding.file, finding.row, finding.column) == ("sites.csv", 2, "latitude")
    assert (finding.value, finding.weight) == (typed.split(",")[0], "asks")
    assert "km from its branch NORTH" in finding.problem
    assert finding.mend == f"{asked}; until then 30 minutes are taken for the drive"
    assert placed(folder) == [(None, None), (54.3, 12.3)]


def test_a_site_far_off_however_it_is_read_is_asked_about_and_taken_as_typed(folder):
    put(folder, "34.2,102.2")
    finding = folder.one()
    assert "correct latitude, longitude or the branch" in finding.mend
    assert placed(folder) == [(34.2, 102.2)]


def test_a_branch_far_from_all_its_sites_is_the_one_that_was_swapped(folder):
    folder.write("branches.csv", BRANCH + "12.1,54.1\n")
    put(folder, "54.2,12.2", "54.3,12.3")
    finding = folder.one()
    assert (finding.file, finding.row, finding.value) == ("branches.csv", 2, "12.1")
    assert "Write latitude 54.1, longitude 12.1 if so" in finding.mend
    taken = folder.read().portfolio
    assert isinstance(taken.branches[0], Branch)
    assert taken.branches[0].latitude is None
    assert placed(folder) == [(54.2, 12.2), (54.3, 12.3)]


@pytest.mark.parametrize(
    ("typed", "mend"),
    [
        ("112.2,54.2", "were the two swapped? Write latitude 54.2, longitude 112.2 if so"),
        ("112.2,154.2", "correct the latitude"),
    ],
)
def test_a_latitude_beyond_the_pole_is_asked_about_and_not_taken(folder, typed, mend):
    put(folder, typed)
    finding = folder.one()
    assert (finding.column, finding.value, finding.weight) == ("latitude", "112.2", "asks")
    assert finding.allowed == "-90 to 90 degrees"
    assert finding.mend == f"{mend}; until then 30 minutes are taken for the drive"
    assert placed(folder) == [(None, None)]


def test_what_is_no_place_on_the_globe_in_any_way_stops(folder):
    put(folder, "54.2,212")
    assert folder.one().weight == "stops"
