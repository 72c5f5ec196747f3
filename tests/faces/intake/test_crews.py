from datetime import date

import pytest

from floorcare.ground.trade.crew import Absence, CrewMember, Shift
from floorcare.ground.trade.people import Person, Role


def test_a_worker_carries_languages_days_and_qualifications(full):
    full.write(
        "workers.csv",
        "worker,name,branch,languages,from_on,to_on\n"
        "W-1,Kim Hale,NORTH,DE pt-br zh-hant,2024-03-01,2027-03-31\nW-2,Ola Berg,NORTH,,,\n"
        "W-3,Max Roth,NORTH,,,\n",
    )
    full.write(
        "qualifications.csv",
        "worker,name,from_on,expires_on\n"
        "W-1,propane,2025-01-01,2026-12-31\nW-1,Market induction,2026-01-12,\n",
    )
    kim, ola, _ = full.right().workers
    assert kim.languages == ("de", "pt-BR", "zh-Hant")
    assert (kim.from_on, kim.to_on) == (date(2024, 3, 1), date(2027, 3, 31))
    assert [q.name for q in kim.qualifications] == ["Market induction", "propane"]
    assert kim.holds("propane", date(2026, 12, 31))
    assert not kim.holds("propane", date(2027, 1, 1))
    assert (ola.languages, ola.from_on, ola.qualifications) == (("en",), date.min, ())


def test_a_crew_carries_members_and_shifts(full):
    north, south = full.right().crews
    assert north.members == (
        CrewMember(worker="W-1", from_on=date(2025, 1, 1)),
        CrewMember(worker="W-2", from_on=date(2025, 1, 1), to_on=date(2025, 12, 31)),
    )
    assert north.shifts == (
        Shift(
            weekdays=frozenset({6, 0, 1, 2, 3}),
            starts_minute=1290,
            ends_minute=330,
            break_minutes=30,
        ),
    )
    assert (south.code, south.members_on(date(2026, 3, 2))) == ("N-2", ("W-3",))


def test_somebody_who_uses_the_program_may_be_a_worker_or_a_contact(full):
    full.write(
        "people.csv",
        "person,name,role,email,worker,contact\n"
        "KIM,Kim Hale,crew,kim@contractor.example,W-1,\nROBIN,Robin Vale,customer,,,C-1\n",
    )
    assert full.right().people == (
        Person(
            code="KIM",
            name="Kim Hale",
            role=Role.CREW,
            email="kim@contractor.example",
            worker="W-1",
        ),
        Person(code="ROBIN", name="Robin Vale", role=Role.CUSTOMER, contact="C-1"),
    )


@pytest.mark.parametrize("crew", ["N-1", "N-2"])
def test_nobody_is_in_two_crews_at_once(full, crew):
    full.add("crew_members.csv", f"{crew},W-1,2026-06-01,")
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("crew_members.csv", 5, "from_on")
    assert finding.problem == "the worker is in two crews at once; the other is row 2"
    assert finding.mend == "end the earlier one the day before with to_on"
    assert finding.weight == "stops"


def test_a_worker_may_change_the_crew_from_one_day_to_the_next(full):
    full.add("crew_members.csv", "N-2,W-2,2026-01-01,")
    assert full.right().crews[1].members_on(date(2026, 1, 1)) == ("W-2", "W-3")


def test_a_worker_of_another_branch_is_no_member(full):
    full.add("branches.csv", "SOUTH,South yard,Europe/Berlin")
    full.change("workers.csv", "Kim Hale,NORTH", "Kim Hale,SOUTH")
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("crew_members.csv", 2, "worker")
    assert finding.problem == "the worker belongs to branch SOUTH, the crew to branch NORTH"
    assert finding.weight == "stops"


def test_a_member_needs_a_row_in_workers_csv(full):
    full.add("crew_members.csv", "N-2,W-12,2026-01-01,", "N-2,OLGA,2026-01-01,")
    near, far = full.findings()
    assert (near.column, near.value, near.weight) == ("worker", "W-12", "stops")
    assert near.problem == "there is no worker of this code in workers.csv"
    assert near.mend == 'write "W-2" or "W-1" if that is meant'
    assert far.mend == "add it to workers.csv or correct the code"


def test_without_workers_csv_every_member_is_told_where_to_add_the_worker(full):
    full.drop("workers.csv", "qualifications.csv", "people.csv")
    found = full.findings()
    assert {each.problem for each in found} == {"there is no worker of this code in workers.csv"}
    assert {each.mend for each in found} == {"add it to workers.csv or correct the code"}


def test_a_broken_workers_csv_is_one_finding_without_followers(full):
    full.change("workers.csv", "worker,", "who,")
    assert {each.file for each in full.findings()} == {"workers.csv"}


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        ("N-1,We,20:00,04:00,0", "two shifts of the crew start on Wednesdays; the other is row 2"),
        ("N-1,Fr,22:00,22:20,0", "the shift lasts 20 minutes"),
        ("N-1,Fr,06:00,06:00,0", "the shift lasts 1,440 minutes"),
        ("N-1,Fr,22:00,23:00,60", "the break is as long as the shift of 60 minutes"),
    ],
)
def test_a_shift_that_nobody_can_work_is_a_finding(full, row, problem):
    full.add("shifts.csv", row)
    finding = full.one()
    assert (finding.file, finding.row, finding.problem) == ("shifts.csv", 4, problem)
    assert finding.mend


def test_shifts_may_follow_each_other_over_the_year(full):
    full.write(
        "shifts.csv",
        "crew,nights,from,to,from_on,to_on\n"
        "N-1,Mo,21:30,05:30,,2026-05-31\nN-1,Mo,22:00,24:00,2026-06-01,\n"
        "N-2,Mo,22:00,06:00,,\n",
    )
    first, second = full.right().crews[0].shifts
    assert (first.from_on, first.to_on) == (date.min, date(2026, 5, 31))
    assert (second.minutes, second.from_on) == (120, date(2026, 6, 1))


@pytest.mark.parametrize(
    ("name", "old", "new", "column", "mend"),
    [
        ("workers.csv", "Hale,NORTH", "Hale,NORT", "branch", 'write "NORTH" if that is meant'),
        ("workers.csv", "W-2", "W-1", "worker", "leave one of the two out or give it another code"),
        ("qualifications.csv", "W-1", "W1", "worker", 'write "W-1"'),
        ("crews.csv", "N-1,NORTH", "N-1,NORD", "branch", 'write "NORTH" if that is meant'),
        ("crew_members.csv", "N-1,W-1", "N1,W-1", "crew", 'write "N-1"'),
        ("crew_members.csv", "2025-12-31", "2024-12-31", "to_on", "correct one of the two dates"),
        ("shifts.csv", "N-1", "NIGHT", "crew", "add it to crews.csv or correct the code"),
        ("shifts.csv", "Su-Th", "Sunnights", "nights", ""),
        ("people.csv", "crew", "crewlead", "role", 'write "crew" if that is meant'),
        ("people.csv", "crew", "owner", "role", "write one of the allowed words"),
        ("people.csv", "W-1", "W-9", "worker", 'write "W-'),
    ],
)
def test_what_cannot_be_of_people_is_a_finding_with_its_mend(full, name, old, new, column, mend):
    full.change(name, old, new)
    finding = next(each for each in full.findings() if each.file == name)
    assert (finding.column, finding.weight) == (column, "stops")
    assert finding.mend
    assert finding.mend.startswith(mend)


def test_an_unknown_role_is_told_with_those_there_are(full):
    full.change("people.csv", "crew", "owner")
    assert full.one().allowed == "admin, planner, crew, account, customer"


@pytest.mark.parametrize(
    ("name", "row", "column"),
    [
        ("crews.csv", "N-1,NORTH,Again", "crew"),
        ("qualifications.csv", "W-1,Market induction,2026-01-12", "from_on"),
        ("people.csv", "KIM,Kim Again,crew,", "person"),
    ],
)
def test_what_is_given_twice_names_the_row_of_the_first(full, name, row, column):
    full.add(name, row)
    finding = full.one()
    assert (finding.file, finding.column) == (name, column)
    assert "given twice; the first stands in row 2" in finding.problem


def test_absences_stand_with_their_worker_by_day(full):
    full.write(
        "absences.csv",
        "worker,from,to,why\nW-1,2026-03-02,,dentist\nW-1,2026-02-02,2026-02-13,leave\n",
    )
    kim = full.right().workers[0]
    assert kim.absences == (
        Absence(from_on=date(2026, 2, 2), to_on=date(2026, 2, 13), why="leave"),
        Absence(from_on=date(2026, 3, 2), to_on=date(2026, 3, 2), why="dentist"),
    )
    assert not kim.works_on(date(2026, 2, 13))
    assert kim.works_on(date(2026, 2, 14))


@pytest.mark.parametrize(
    ("row", "column", "mend"),
    [
        ("W-11,2026-03-02,,", "worker", 'write "W-1" if that is meant'),
        ("W-2,2026-03-06,2026-03-02,", "to_on", "correct one of the two dates"),
        ("W-1,2026-02-02,,", "from_on", "leave one of the two out or give it another code"),
    ],
)
def test_an_absence_that_cannot_be_is_a_finding_with_its_mend(full, row, column, mend):
    full.add("absences.csv", row)
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("absences.csv", 3, column)
    assert (finding.weight, finding.mend) == ("stops", mend)


@pytest.mark.parametrize(
    ("name", "row", "problem", "mend"),
    [
        ("shifts.csv", "N-2,Mo-Fr,22:00,06:00,30\n", "no shift", "add its nights to shifts.csv"),
        ("crew_members.csv", "N-2,W-3,2025-01-01,\n", "no member", "add its workers to crew_mem"),
    ],
)
def test_a_crew_that_cannot_go_out_is_asked_about_and_the_rest_taken(
    full, name, row, problem, mend
):
    full.change(name, row, "")
    finding = full.one()
    assert (finding.file, finding.row, finding.value) == ("crews.csv", 3, "N-2")
    assert finding.weight == "asks"
    assert f"the crew has {problem} from 2026-11-24 on" in finding.problem
    assert finding.mend.startswith(mend)
    assert [crew.code for crew in full.read().portfolio.crews] == ["N-1", "N-2"]


def test_a_crew_whose_last_member_left_is_asked_about(full):
    full.change("crew_members.csv", "N-2,W-3,2025-01-01,", "N-2,W-3,2025-01-01,2026-11-23")
    assert "no member" in full.one().problem
    full.change("crew_members.csv", "N-2,W-3,2025-01-01,", "N-2,W-3,2025-01-01,2026-11-24")
    assert full.right()
