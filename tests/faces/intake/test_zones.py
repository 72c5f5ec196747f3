import datetime as dt

import pytest

from floorcare.ground.trade.zone import Opening

HEADING = (
    "site,zone,name,surface,area_m2,area_ft2,traffic,area,place,exposure,from_on,to_on,"
    "opening,polished_on,about_days,poured_on,parents,ends_on"
)
COLUMNS = HEADING.split(",")


def row(**cells):
    right = {
        "site": "MARKET",
        "zone": "LANE",
        "name": "Main lane",
        "surface": "polished_concrete",
        "area_m2": "420",
        "traffic": "heavy",
        "from_on": "2025-01-01",
    }
    return ",".join((right | cells).get(column, "") for column in COLUMNS)


def put(folder, *rows):
    folder.write("zones.csv", "\n".join((HEADING, *rows)) + "\n")
    folder.drop("areas.csv")


def lane(folder):
    taken = folder.read()
    assert [str(f) for f in taken.findings] == []
    return taken.portfolio.books[0].zone("LANE").zone


def test_a_zone_carries_what_its_row_says(folder):
    put(
        folder,
        row(
            area="HALL",
            place="wet-plus",
            exposure="lane",
            to_on="2027-12-31",
            opening="dates about",
            polished_on="2024-05-01",
            about_days="30",
            poured_on="2010-01-01",
            parents="OLD",
        ),
        row(zone="OLD", name="Old hall", from_on="2020-01-01", to_on="2024-12-31"),
    )
    zone = lane(folder)
    assert (zone.area, zone.exposure, zone.parents) == ("HALL", "lane", ("OLD",))
    assert (zone.opening, zone.about_days) == (Opening.ABOUT, 30)
    assert (zone.polished_on, zone.poured_on) == (dt.date(2024, 5, 1), dt.date(2010, 1, 1))
    assert zone.spans[0].place == "wet-plus"
    assert zone.ends_on == dt.date(2027, 12, 31)


def test_square_feet_become_square_metres_by_the_exact_factor(folder):
    put(folder, row(area_m2="", area_ft2="10000"))
    assert lane(folder).spans[0].area_m2 == pytest.approx(929.0304, rel=1e-12)


def test_an_area_in_both_units_is_a_finding(folder):
    put(folder, row(area_ft2="4500"))
    assert folder.one().column == "area_ft2"


def test_a_zone_without_area_is_asked_about(folder):
    put(folder, row(area_m2=""))
    finding = folder.one()
    assert (finding.weight, finding.column) == ("asks", "area_m2")


@pytest.mark.parametrize("area", ["-80", "0", "2000000", "many"])
def test_an_area_that_cannot_be_is_a_finding(folder, area):
    put(folder, row(area_m2=area))
    finding = folder.one()
    assert (finding.column, finding.value, finding.allowed) == (
        "area_m2",
        area,
        "0.1 to 1,000,000 m²",
    )


def test_a_surface_that_is_not_known_is_named_with_those_that_are(folder):
    put(folder, row(surface="polished_concret"))
    finding = folder.one()
    assert finding.allowed == "polished_concrete, terrazzo"
    assert finding.mend == 'write "polished_concrete" if that is meant'


def test_rows_of_one_zone_are_its_spans(folder):
    put(folder, row(), row(from_on="2026-01-01", area_m2="400", surface="terrazzo"))
    first, second = lane(folder).spans
    assert (first.from_on, first.to_on) == (dt.date(2025, 1, 1), dt.date(2025, 12, 31))
    assert (second.surface, second.area_m2, second.to_on) == ("terrazzo", 400, None)


def test_rows_of_one_zone_may_stand_in_any_order(folder):
    put(folder, row(from_on="2026-01-01"), row())
    assert [span.from_on.year for span in lane(folder).spans] == [2025, 2026]


def test_rows_of_one_zone_that_contradict_each_other_are_a_finding(folder):
    put(folder, row(poured_on="2010-01-01"), row(from_on="2026-01-01", poured_on="2011-01-01"))
    finding = folder.one()
    assert (finding.row, finding.column) == (3, "poured_on")
    assert finding.problem == 'row 2 says "2010-01-01" of the same zone'


def test_an_empty_cell_in_a_later_row_contradicts_nothing(folder):
    put(folder, row(poured_on="2010-01-01"), row(from_on="2026-01-01"))
    assert lane(folder).poured_on == dt.date(2010, 1, 1)


def test_rows_of_one_zone_that_overlap_are_a_finding(folder):
    put(folder, row(to_on="2026-02-01"), row(from_on="2026-01-01"))
    finding = folder.one()
    assert (finding.row, finding.column) == (2, "to_on")


def test_rows_of_one_zone_need_their_first_days(folder):
    put(folder, row(), row(from_on=""))
    finding = folder.one()
    assert (finding.row, finding.column) == (3, "from_on")


def test_a_span_that_ends_before_it_starts_is_a_finding(folder):
    put(folder, row(to_on="2024-12-31"))
    assert "ends before it starts" in folder.findings()[0].problem


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"opening": "dates known"}, "polished_on"),
        ({"opening": "dates about", "polished_on": "2024-01-01"}, "about_days"),
        ({"opening": "fresh", "about_days": "5"}, "about_days"),
        (
            {"opening": "dates known", "polished_on": "2024-01-01", "about_days": "5"},
            "about_days",
        ),
        ({"polished_on": "2027-01-01"}, "polished_on"),
        ({"poured_on": "2027-01-01", "from_on": ""}, "poured_on"),
        ({"polished_on": "2009-01-01", "poured_on": "2010-01-01"}, "polished_on"),
        ({"poured_on": "2025-06-01"}, "from_on"),
    ],
)
def test_what_is_said_of_the_floors_past_must_agree(folder, cells, column):
    put(folder, row(**cells))
    folder.drop("readings.csv", "treatments_done.csv")
    assert folder.one().column == column


@pytest.mark.parametrize(
    ("cells", "opening"),
    [
        ({}, Opening.UNKNOWN),
        ({"polished_on": "2024-01-01"}, Opening.DATED),
        ({"polished_on": "2024-01-01", "about_days": "9"}, Opening.ABOUT),
        ({"opening": "fresh"}, Opening.FRESH),
    ],
)
def test_the_opening_follows_from_what_is_known(folder, cells, opening):
    put(folder, row(**cells))
    assert lane(folder).opening is opening


@pytest.mark.parametrize("parent", ["NOWHERE", "LANE"])
def test_parents_are_other_zones_of_the_site(folder, parent):
    put(folder, row(parents=parent))
    assert folder.one().column == "parents"


def test_an_area_that_areas_csv_does_not_name_is_asked_about(folder):
    put(folder, row(area="HALLE"))
    folder.write("areas.csv", "site,area,name\nMARKET,HALL,Hall B\n")
    taken = folder.read()
    (finding,) = taken.findings
    assert (finding.weight, finding.mend) == ("asks", 'write "HALL" if that is meant')
    assert [a.code for a in taken.portfolio.books[0].areas] == ["HALL", "HALLE"]


def test_a_zone_without_an_area_makes_its_own(folder):
    put(folder, row())
    (area,) = folder.read().portfolio.books[0].areas
    assert (area.code, area.name) == ("LANE", "Main lane")


def test_traffic_of_one_kind_may_not_overlap(folder):
    folder.add("traffic.csv", "MARKET,LANE,foot,100,no,2026-01-01")
    finding = folder.one()
    assert (finding.row, finding.column) == (3, "from_on")
    assert "the other is row 2" in finding.problem


def test_traffic_of_two_kinds_may_overlap(folder):
    folder.add("traffic.csv", "MARKET,LANE,pallet truck,40,no,2026-01-01")
    rows = folder.read().portfolio.books[0].zone("LANE").traffic
    assert [(r.kind, r.counted) for r in rows] == [("foot", True), ("pallet truck", False)]


@pytest.mark.parametrize(
    ("old", "new", "column"),
    [("foot", "horse", "kind"), ("2150", "-5", "per_day"), ("yes", "maybe", "counted")],
)
def test_traffic_that_cannot_be_is_a_finding(folder, old, new, column):
    folder.change("traffic.csv", old, new)
    assert folder.one().column == column


def test_a_site_without_zones_is_asked_about(folder):
    folder.add("sites.csv", "COLLEGE,HARBOUR,College,NORTH,Europe/Berlin,54.3,12.1")
    folder.add("access_windows.csv", "COLLEGE,Mo-Fr,22:00,06:00,")
    finding = folder.one()
    assert (finding.file, finding.row, finding.weight) == ("sites.csv", 3, "asks")


def test_a_zone_may_end_by_either_name(folder):
    put(folder, row(ends_on="2027-12-31"))
    assert lane(folder).ends_on == dt.date(2027, 12, 31)
    both = row(to_on="2027-12-31", ends_on="2027-12-31")
    folder.write("zones.csv", f"{HEADING}\n{both}\n")
    assert lane(folder).ends_on == dt.date(2027, 12, 31)


def test_two_last_days_that_differ_are_a_finding(folder):
    put(folder, row(to_on="2027-12-31", ends_on="2027-12-30"))
    finding = folder.one()
    assert (finding.column, finding.value) == ("ends_on", "2027-12-30")
    assert finding.problem == "to_on says 2027-12-31, and both mean the last day"
    assert finding.mend == "leave one of the two empty"


def test_an_end_before_the_start_names_the_column_it_stands_in(folder):
    put(folder, row(ends_on="2024-12-31"))
    found = [each for each in folder.findings() if "ends before it starts" in each.problem]
    assert [(each.column, each.value) for each in found] == [("ends_on", "2024-12-31")]


def split(folder, *, parent_ends="2025-12-31", starts="2026-01-01", readings=(), stations=()):
    put(
        folder,
        row(zone="LANE", ends_on=parent_ends),
        row(zone="LANE-N", from_on=starts, parents="LANE"),
        row(zone="LANE-S", from_on=starts, parents="LANE"),
    )
    folder.write("stations.csv", "\n".join(("site,zone,station,note", *stations)) + "\n")
    folder.write(
        "readings.csv",
        "\n".join(("site,zone,station,taken_at,measure,value,state", *readings)) + "\n",
    )
    folder.drop("promises.csv")


def test_a_split_begins_the_day_after_its_parent_ends(folder):
    split(
        folder,
        readings=(
            "MARKET,LANE,,2025-12-31,gloss,41,after burnish",
            "MARKET,LANE-N,,2026-01-01,gloss,41,after burnish",
        ),
    )
    book = folder.right().books[0]
    assert book.zone("LANE-S").zone.parents == ("LANE",)
    assert book.zone("LANE").zone.ends_on == dt.date(2025, 12, 31)


def test_a_parent_that_is_still_open_when_its_child_starts_is_a_finding(folder):
    split(folder, parent_ends="")
    first, second = folder.findings()
    assert (first.row, first.column, first.value, first.weight) == (3, "parents", "LANE", "stops")
    assert first.problem == "its parent LANE is still open when it starts on 2026-01-01"
    assert first.mend == "end LANE with ends_on 2025-12-31"
    assert second.row == 4


def test_a_parent_that_ends_on_the_day_its_child_starts_is_a_finding(folder):
    split(folder, parent_ends="2026-01-01")
    finding = folder.findings()[0]
    assert finding.problem == (
        "its parent LANE is under care until 2026-01-01 when it starts on 2026-01-01"
    )
    assert finding.mend == "end LANE with ends_on 2025-12-31, or start LANE-N on 2026-01-02"


def test_a_child_needs_the_day_it_starts(folder):
    split(folder, starts="")
    finding = folder.findings()[0]
    assert (finding.row, finding.column) == (3, "from_on")
    assert finding.mend == "write the day after LANE ends"


def test_a_parent_that_is_not_known_is_named_with_the_nearest(folder):
    put(folder, row(), row(zone="LANE-N", from_on="2026-01-01", parents="LAME"))
    finding = folder.one()
    assert (finding.row, finding.column, finding.value) == (3, "parents", "LAME")
    assert finding.mend.startswith('write "LANE"')


def test_readings_on_both_sides_of_a_split_name_the_zone_they_fit(folder):
    split(
        folder,
        readings=(
            "MARKET,LANE,,2026-03-02,gloss,41,after burnish",
            "MARKET,LANE-S,,2025-11-02,gloss,44,after burnish",
        ),
    )
    late, early = folder.findings()
    assert (late.row, late.column, late.weight) == (2, "taken_at", "stops")
    assert late.problem == "it lies after the zone's care ended on 2025-12-31"
    assert late.mend == "write it on MARKET/LANE-N or MARKET/LANE-S, under care that day"
    assert (early.row, early.weight) == (3, "stops")
    assert early.problem == "it lies before the zone's care starts on 2026-01-01"
    assert early.mend == "write it on MARKET/LANE, under care that day"


def test_the_half_that_knows_the_station_is_named_alone(folder):
    split(
        folder,
        stations=("MARKET,LANE,P1,", "MARKET,LANE-N,P2,", "MARKET,LANE-S,P1,"),
        readings=("MARKET,LANE,P1,2026-03-02,gloss,41,after burnish",),
    )
    assert folder.one().mend == "write it on MARKET/LANE-S, under care that day"


def test_zones_may_be_merged(folder):
    put(
        folder,
        row(zone="EDGE-N", ends_on="2025-12-31"),
        row(zone="EDGE-S", ends_on="2025-11-30"),
        row(zone="LANE", from_on="2026-01-01", parents="EDGE-N EDGE-S"),
    )
    folder.drop("treatments_done.csv", "traffic.csv", "promises.csv")
    assert lane(folder).parents == ("EDGE-N", "EDGE-S")


def test_withdrawn_traffic_is_brought_in_as_taken_back_and_overlaps_nothing(folder):
    folder.write(
        "traffic.csv",
        "site,zone,kind,per_day,counted,from_on,withdrawn\n"
        "MARKET,LANE,foot,2150,yes,2025-01-01,no\nMARKET,LANE,foot,900,yes,2026-01-01,yes\n",
    )
    portfolio = folder.right()
    assert [each.per_day for each in portfolio.books[0].zone("LANE").traffic] == [2150, 900]
    (taken_back,) = portfolio.withdrawn
    assert (taken_back.kind, taken_back.zone) == ("traffic", "LANE")
    assert taken_back.key == ("foot", "2026-01-01")


def test_traffic_that_is_brought_in_and_taken_back_is_a_finding(folder):
    folder.write(
        "traffic.csv",
        "site,zone,kind,per_day,counted,from_on,withdrawn\n"
        "MARKET,LANE,foot,2150,yes,2025-01-01,yes\nMARKET,LANE,foot,900,yes,2025-01-01,\n",
    )
    assert "given twice; the first stands in row 2" in folder.one().problem
