from datetime import date

import pytest

from floorcare.ground.trade.make_up import FloorMakeUp, Season

HEADING = (
    "site,zone,from_on,grit,exposure_class,densifier,protector,joints_m,edges_m,"
    "obstruction_share,moisture\n"
)


def test_a_zone_carries_what_its_floor_is_made_of_from_day_to_day(full):
    full.write(
        "make_up.csv",
        HEADING + "MARKET,LANE,2026-01-01,3000,b,lithium,film,64,88.5,15 %,dry\n"
        "MARKET,LANE,2025-01-01,,,,,,,,\n",
    )
    first, second = full.right().books[0].zone("LANE").make_ups
    assert first == FloorMakeUp(from_on=date(2025, 1, 1))
    assert second == FloorMakeUp(
        from_on=date(2026, 1, 1),
        grit=3000,
        exposure_class="B",
        densifier="lithium",
        protector="film",
        joints_m=64,
        edges_m=88.5,
        obstruction_share=0.15,
        moisture="dry",
    )


def test_seasons_stand_in_the_sites_book(full):
    full.add("seasons.csv", "MARKET,harvest,1 Aug,31-Aug,1.5")
    harvest, grit = full.right().books[0].seasons
    assert harvest == Season(
        name="harvest", from_month=8, from_day=1, to_month=8, to_day=31, factor=1.5
    )
    assert grit.covers(date(2027, 1, 1))
    assert not grit.covers(date(2027, 3, 16))


@pytest.mark.parametrize(
    ("name", "old", "new", "column", "mend"),
    [
        ("seasons.csv", "2.5", "25", "factor", "was a decimal point lost? Write 2.5 if so"),
        ("seasons.csv", "2.5", "0.5", "factor", "correct the number"),
        ("seasons.csv", "11-15", "2026-11-15", "from", "write month-day without a year"),
        ("seasons.csv", "03-15", "02-30", "to", "correct day or month"),
        ("seasons.csv", "MARKET", "MARKT", "site", 'write "MARKET" if that is meant'),
        ("make_up.csv", "1500", "150000", "grit", "was a decimal point lost?"),
        ("make_up.csv", "LANE", "LAME", "zone", 'write "LANE" if that is meant'),
    ],
)
def test_what_cannot_be_of_a_floor_is_a_finding_with_its_mend(full, name, old, new, column, mend):
    full.change(name, old, new)
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == (name, 2, column)
    assert finding.weight == "stops"
    assert finding.mend.startswith(mend)


def test_an_exposure_class_is_a_b_or_c(full):
    full.write("make_up.csv", HEADING + "MARKET,LANE,2025-01-01,,D,,,,,,\n")
    finding = full.one()
    assert (finding.column, finding.allowed) == ("exposure_class", "A, B, C")


@pytest.mark.parametrize(
    ("name", "row", "column"),
    [
        ("seasons.csv", "MARKET,winter grit,12-01,02-01,3", "name"),
        ("make_up.csv", "MARKET,LANE,2025-01-01,800", "from_on"),
    ],
)
def test_what_is_given_twice_names_the_row_of_the_first(full, name, row, column):
    full.add(name, row)
    finding = full.one()
    assert (finding.file, finding.column) == (name, column)
    assert "given twice; the first stands in row 2" in finding.problem
