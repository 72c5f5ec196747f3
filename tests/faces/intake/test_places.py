import datetime as dt

import pytest

from floorcare.faces.intake.places import NIGHTLY
from floorcare.ground.worktime.window import AccessWindow


def test_a_branch_carries_what_its_row_says(folder):
    folder.write(
        "branches.csv",
        "branch,name,time_zone,country,region,latitude,longitude,crews,crew_size,shift_minutes,"
        "nights,reserve_share,units,currency\n"
        'NORTH,North yard,America/Chicago,us,TX,29.75,-95.37,3,4,420,"Su-Th",15 %,us,usd\n',
    )
    (branch,) = folder.read().portfolio.branches
    assert (branch.country, branch.region, branch.units, branch.currency) == (
        "US",
        "TX",
        "US",
        "USD",
    )
    assert (branch.crews, branch.crew_size, branch.shift_minutes) == (3, 4, 420)
    assert branch.weekdays == frozenset({6, 0, 1, 2, 3})
    assert branch.reserve_share == 0.15
    assert (branch.latitude, branch.longitude) == (29.75, -95.37)


@pytest.mark.parametrize(
    ("column", "value"),
    [("crews", "-1"), ("crew_size", "0"), ("shift_minutes", "20"), ("reserve_share", "0.95")],
)
def test_a_branch_out_of_range_is_a_finding(folder, column, value):
    folder.write(
        "branches.csv", f"branch,name,time_zone,{column}\nNORTH,North,Europe/Berlin,{value}\n"
    )
    assert folder.one().column == column


def test_an_unknown_time_zone_is_named_with_those_near_it(folder):
    folder.change("sites.csv", "Europe/Berlin", "Europe/Berln")
    finding = folder.one()
    assert (finding.column, finding.value) == ("time_zone", "Europe/Berln")
    assert "Europe/Berlin" in finding.mend


@pytest.mark.parametrize(
    ("country", "region", "column", "value"),
    [("XX", "", "country", "XX"), ("DE", "XY", "region", "XY"), ("", "BY", "region", "BY")],
)
def test_an_unknown_country_or_region_is_a_finding(folder, country, region, column, value):
    folder.write(
        "sites.csv",
        "site,customer,name,branch,time_zone,country,region\n"
        f"MARKET,HARBOUR,Market hall,NORTH,Europe/Berlin,{country},{region}\n",
    )
    finding = folder.one()
    assert (finding.column, finding.value) == (column, value)
    assert finding.weight == "stops"


def test_half_a_pair_of_coordinates_is_a_finding(folder):
    folder.write(
        "sites.csv",
        "site,customer,name,branch,time_zone,latitude\n"
        "MARKET,HARBOUR,Market hall,NORTH,Europe/Berlin,53.5\n",
    )
    assert folder.one().problem == "a latitude needs its longitude"


def test_an_unknown_branch_is_a_finding(folder):
    folder.change("sites.csv", ",NORTH,", ",NOTRH,")
    finding = folder.one()
    assert (finding.column, finding.mend) == ("branch", 'write "NORTH" if that is meant')


def test_a_customer_named_by_sites_alone_is_taken_and_asked_about(folder):
    folder.change("sites.csv", "HARBOUR", "HARBUOR")
    taken = folder.read()
    (finding,) = taken.findings
    assert (finding.weight, finding.mend) == ("asks", 'write "HARBOUR" if that is meant')
    assert [c.code for c in taken.portfolio.customers] == ["HARBOUR", "HARBUOR"]


def test_an_access_window_carries_what_its_row_says(folder):
    folder.write(
        "access_windows.csv",
        "site,nights,from,to,permits,from_on,to_on\n"
        'MARKET,"Sa,Su",21:30,05:00,"loud, fuel machine",2026-01-01,2026-12-31\n'
        "MARKET,We,24:00,24:00,,,\n",
    )
    weekend, whole_day = folder.read().portfolio.books[0].site.windows
    assert weekend == AccessWindow(
        weekdays=frozenset({5, 6}),
        starts_minute=1290,
        ends_minute=300,
        permits=frozenset({"loud", "fuel machine"}),
        from_on=dt.date(2026, 1, 1),
        to_on=dt.date(2026, 12, 31),
    )
    assert whole_day.permits == {"loud", "wet"}
    assert whole_day.minutes == 1440


@pytest.mark.parametrize(("ends", "good"), [("22:20", False), ("22:29", False), ("22:30", True)])
def test_a_window_shorter_than_any_work_is_a_finding(folder, ends, good):
    folder.change("access_windows.csv", "06:00", ends)
    found = folder.findings()
    assert (found == ()) is good
    if not good:
        assert "shorter than any work" in found[0].problem


def test_a_window_that_ends_before_it_starts_by_its_dates_is_a_finding(folder):
    folder.write(
        "access_windows.csv",
        "site,nights,from,to,from_on,to_on\nMARKET,Mo,22:00,06:00,2026-05-01,2026-04-01\n",
    )
    assert folder.one().column == "to_on"


def test_a_site_without_windows_is_taken_as_open_at_night_and_asked_about(folder):
    folder.write("access_windows.csv", "site,nights,from,to\n")
    taken = folder.read()
    (finding,) = taken.findings
    assert (finding.weight, finding.file, finding.row) == ("asks", "sites.csv", 2)
    assert taken.portfolio.books[0].site.windows == (NIGHTLY,)
    assert (NIGHTLY.starts_minute, NIGHTLY.ends_minute) == (1320, 360)


def test_shut_days_are_sorted_and_a_single_day_needs_no_end(folder):
    folder.add("shut_days.csv", "MARKET,2026-05-01,,market day")
    shut = folder.read().portfolio.books[0].site.shut_days
    assert [(s.from_on, s.to_on) for s in shut] == [
        (dt.date(2026, 5, 1), dt.date(2026, 5, 1)),
        (dt.date(2026, 12, 24), dt.date(2027, 1, 1)),
    ]


def test_a_shut_year_is_asked_about_even_in_pieces(folder):
    folder.write(
        "shut_days.csv",
        "site,from_on,to_on,why\n"
        "MARKET,2026-07-01,2026-12-31,works\n"
        "MARKET,2026-01-01,2026-06-30,works\n",
    )
    finding = folder.one()
    assert finding.weight == "asks"
    assert "a shut year: site MARKET may not be worked from 2026-01-01 to 2026-12-31" in (
        finding.problem
    )


def test_a_year_with_one_open_day_is_no_shut_year(folder):
    folder.write(
        "shut_days.csv",
        "site,from_on,to_on,why\n"
        "MARKET,2026-01-01,2026-06-29,works\n"
        "MARKET,2026-07-01,2026-12-31,works\n",
    )
    assert folder.findings() == ()


def test_control_characters_in_a_name_are_refused(folder):
    folder.change("sites.csv", "Market hall", "Market\x07 hall")
    assert folder.one().column == "name"


def test_a_name_of_a_hundred_thousand_characters_is_a_finding_of_readable_length(folder):
    folder.change("sites.csv", "Market hall", "n" * 100_000)
    finding = folder.one()
    assert (finding.file, finding.row, finding.column) == ("sites.csv", 2, "name")
    assert len(str(finding)) < 400


def test_a_withdrawn_shut_day_is_brought_in_as_taken_back(folder):
    folder.write(
        "shut_days.csv",
        "site,from_on,to_on,why,withdrawn\nMARKET,2026-12-24,2027-01-01,stocktaking,yes\n",
    )
    portfolio = folder.right()
    assert [shut.why for shut in portfolio.books[0].site.shut_days] == ["stocktaking"]
    (taken_back,) = portfolio.withdrawn
    assert (taken_back.kind, taken_back.site, taken_back.zone) == ("shut day", "MARKET", "")
    assert taken_back.key == ("2026-12-24",)


def test_two_shut_days_of_one_site_that_start_together_are_a_finding(folder):
    folder.add("shut_days.csv", "MARKET,2026-12-24,,again")
    assert "given twice; the first stands in row 2" in folder.one().problem
