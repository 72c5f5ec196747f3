import datetime as dt

import pytest

from floorcare.ground.trade.book import DateKnown, Withdrawal
from floorcare.ground.trade.reading import Measure

HEADING = "site,zone,station,taken_at,measure,geometry,method,value,state,instrument,reader,witness"


def put(folder, *rows):
    folder.write("readings.csv", "\n".join((HEADING, *rows)) + "\n")


def lane(folder):
    taken = folder.read()
    assert [str(f) for f in taken.findings if f.weight == "stops"] == []
    return taken.portfolio.books[0].zone("LANE")


def test_a_reading_carries_what_its_row_says(folder):
    put(
        folder,
        "MARKET,LANE,P1,2026-03-02 21:40,gloss,20,,18.4,wet,M-7,Kim,Ola",
        "MARKET,LANE,,2026-03-02,slip,,WET DCOF,0.47,wet,,,",
        "MARKET,LANE,,2026-03-02,grade,,,4,after cleaning,,,",
    )
    by_measure = {r.measure: r for r in lane(folder).readings}
    gloss, slip = by_measure[Measure.GLOSS], by_measure[Measure.SLIP]
    assert (gloss.geometry_deg, gloss.instrument, gloss.reader, gloss.witness) == (
        20,
        "M-7",
        "Kim",
        "Ola",
    )
    assert (slip.method, slip.geometry_deg, slip.taken_minute) == ("wet DCOF", 0, 720)
    assert by_measure[Measure.GRADE].value == 4


def test_readings_are_sorted_by_their_moment(folder):
    put(
        folder,
        "MARKET,LANE,,2026-03-03,gloss,,,40,wet,,,",
        "MARKET,LANE,,2026-03-02 09:00,gloss,,,41,wet,,,",
        "MARKET,LANE,,2026-03-02 08:00,gloss,,,42,wet,,,",
    )
    assert [r.value for r in lane(folder).readings] == [42, 41, 40]


def test_412_gu_is_asked_whether_a_decimal_point_was_lost(folder):
    folder.change("readings.csv", "41.2", "412")
    finding = folder.one()
    assert (finding.file, finding.row, finding.column) == ("readings.csv", 2, "value")
    assert finding.value == "412"
    assert finding.problem == "gloss 412 GU cannot be"
    assert finding.allowed == "0 to 200 GU"
    assert finding.mend == "was a decimal point lost? Write 41.2 if so"


@pytest.mark.parametrize(
    ("measure", "method", "value"),
    [
        ("gloss", "", "-1"),
        ("DOI", "", "101"),
        ("grade", "", "6"),
        ("slip", "wet DCOF", "45"),
        ("slip", "pendulum PTV", "151"),
    ],
)
def test_a_value_out_of_range_is_a_finding(folder, measure, method, value):
    put(folder, f"MARKET,LANE,,2026-03-02,{measure},,{method},{value},wet,,,")
    assert folder.one().column == "value"


def test_a_reading_in_the_future_is_a_finding(folder):
    folder.change("readings.csv", "2026-03-02", "2026-12-02")
    assert folder.one().problem == "the date is in the future"


@pytest.mark.parametrize(
    ("column", "value", "says"),
    [
        ("from_on", "2026-04-01", "before the zone's care starts on 2026-04-01"),
        ("poured_on", "2026-04-01", "before the floor was poured on 2026-04-01"),
        ("to_on", "2026-03-01", "after the zone's care ended on 2026-03-01"),
    ],
)
def test_a_reading_outside_the_zones_care_is_a_finding(folder, column, value, says):
    folder.write(
        "zones.csv",
        f"site,zone,name,surface,area_m2,traffic,{column}\n"
        f"MARKET,LANE,Main lane,polished_concrete,420,heavy,{value}\n",
    )
    folder.drop("treatments_done.csv", "areas.csv")
    finding = folder.one()
    assert (finding.file, finding.column) == ("readings.csv", "taken_at")
    assert says in finding.problem


def test_a_slip_reading_needs_a_known_method(folder):
    put(
        folder,
        "MARKET,LANE,,2026-03-02,slip,,,0.5,wet,,,",
        "MARKET,LANE,,2026-03-03,slip,,wet DCOFF,0.5,wet,,,",
    )
    without, mistyped = folder.findings()
    assert without.column == mistyped.column == "method"
    assert mistyped.mend.startswith('write "wet DCOF"')


def test_a_withdrawn_slip_method_is_kept_and_asked_about_once(folder):
    put(
        folder,
        "MARKET,LANE,,2026-03-02,slip,,ASTM C1028,0.6,wet,,,",
        "MARKET,LANE,,2026-03-03,slip,,astm c1028,0.6,wet,,,",
    )
    finding = folder.one()
    assert finding.weight == "asks"
    assert "withdrawn" in finding.problem
    assert [r.method for r in lane(folder).readings] == ["ASTM C1028", "ASTM C1028"]


def test_a_station_that_is_not_listed_is_a_finding_where_any_is(folder):
    folder.change("readings.csv", ",P1,", ",P11,")
    finding = folder.one()
    assert (finding.column, finding.mend) == ("station", 'write "P1" if that is meant')


def test_stations_are_made_from_readings_where_none_are_listed(folder):
    folder.drop("stations.csv")
    assert [s.code for s in lane(folder).stations] == ["P1"]


def test_two_readings_of_one_minute_at_two_stations_are_two(folder):
    folder.drop("stations.csv")
    folder.add("readings.csv", "MARKET,LANE,P2,2026-03-02 21:40,gloss,40.1,after burnish")
    assert len(lane(folder).readings) == 2


def test_decimal_commas_in_a_semicolon_file_are_read(folder):
    folder.write(
        "readings.csv",
        "site;zone;station;taken_at;measure;value;state\n"
        "MARKET;LANE;P1;02.03.2026 21:40;gloss;41,2;after burnish\n",
    )
    assert lane(folder).readings[0].value == 41.2


def test_a_value_with_two_meanings_is_refused(folder):
    folder.change("readings.csv", "41.2", '"1,234"')
    finding = folder.one()
    assert finding.problem == "it can mean 1.234 or 1234"


def test_a_date_with_two_meanings_is_refused_and_both_are_named(folder):
    folder.change("readings.csv", "2026-03-02 21:40", "03/04/2026")
    finding = folder.one()
    assert finding.mend == "write 2026-04-03 or 2026-03-04"


def test_treatments_from_before_the_zones_care_are_taken(folder):
    folder.change("treatments_done.csv", "2025-06-01", "2019-06-01")
    (done,) = lane(folder).done
    assert (done.done_on, done.known) == (dt.date(2019, 6, 1), DateKnown.ABOUT)


def test_treatments_from_before_the_pour_are_a_finding(folder):
    folder.write(
        "zones.csv",
        "site,zone,name,surface,area_m2,traffic,from_on,poured_on\n"
        "MARKET,LANE,Main lane,polished_concrete,420,heavy,2026-01-01,2025-10-01\n",
    )
    folder.drop("areas.csv")
    finding = folder.one()
    assert (finding.file, finding.column) == ("treatments_done.csv", "done_on")
    assert "poured" in finding.problem


@pytest.mark.parametrize(
    ("old", "new"), [("about,15", "about,"), ("about,15", "known,15"), ("about,15", "about,-3")]
)
def test_how_well_a_date_is_known_must_agree_with_its_days(folder, old, new):
    folder.change("treatments_done.csv", old, new)
    assert folder.one().column == "about_days"


def test_a_share_of_a_zone_may_be_in_percent_and_not_above_all_of_it(folder):
    heading = "site,zone,work,done_on,share,performer\n"
    folder.write(
        "treatments_done.csv", f"{heading}MARKET,LANE,burnishing,2026-01-05,60 %,Night crew\n"
    )
    (done,) = lane(folder).done
    assert (done.share, done.performer, done.known) == (0.6, "Night crew", DateKnown.KNOWN)
    folder.write("treatments_done.csv", f"{heading}MARKET,LANE,burnish,2026-01-05,1.6,\n")
    assert folder.one().column == "share"


def test_what_is_no_treatment_was_not_done_to_a_floor(folder):
    folder.change("treatments_done.csv", "recoat", "walk")
    assert folder.one().column == "work"


def test_a_withdrawn_reading_is_brought_in_as_taken_back(folder):
    folder.write(
        "readings.csv",
        f"{HEADING},withdrawn\n"
        "MARKET,LANE,P1,2026-03-02 21:40,gloss,60,,41.2,after burnish,M-7,,,yes\n"
        "MARKET,LANE,P1,2026-03-02 21:45,gloss,60,,41.2,after burnish,M-7,,,no\n",
    )
    portfolio = folder.right()
    assert [r.taken_minute for r in portfolio.books[0].zone("LANE").readings] == [1300, 1305]
    assert portfolio.withdrawn == (
        Withdrawal(
            kind="reading",
            site="MARKET",
            zone="LANE",
            key=("P1", "2026-03-02", "1300", "gloss", "60", "", "M-7", "after burnish"),
        ),
    )


def test_a_reading_that_is_outside_the_zones_care_may_still_be_withdrawn(folder):
    row = "MARKET,LANE,P1,2024-03-02,gloss,,,41.2,after burnish,,,"
    folder.write("readings.csv", f"{HEADING},withdrawn\n{row},\n")
    assert folder.one().column == "taken_at"
    folder.write("readings.csv", f"{HEADING},withdrawn\n{row},yes\n")
    assert len(folder.right().withdrawn) == 1


def test_a_reading_that_is_brought_in_and_taken_back_is_a_finding(folder):
    row = "MARKET,LANE,P1,2026-03-02,gloss,,,41.2,after burnish,,,"
    folder.write("readings.csv", f"{HEADING},withdrawn\n{row},yes\n{row},\n")
    finding = folder.one()
    assert finding.row == 3
    assert "given twice; the first stands in row 2" in finding.problem


def test_a_word_that_is_neither_yes_nor_no_takes_nothing_back(folder):
    row = "MARKET,LANE,P1,2026-03-02,gloss,,,41.2,after burnish,,,"
    folder.write("readings.csv", f"{HEADING},withdrawn\n{row},wrong\n")
    finding = folder.one()
    assert (finding.column, finding.mend) == ("withdrawn", "write yes or no")


def test_a_withdrawn_treatment_is_brought_in_as_taken_back(folder):
    folder.write(
        "treatments_done.csv",
        "site,zone,work,done_on,withdrawn\nMARKET,LANE,recoat,2025-06-01,yes\n",
    )
    portfolio = folder.right()
    assert [done.work for done in portfolio.books[0].zone("LANE").done] == ["recoat"]
    (taken_back,) = portfolio.withdrawn
    assert (taken_back.kind, taken_back.key) == ("treatment done", ("recoat", "2025-06-01"))
