from datetime import date
from decimal import Decimal

import pytest

from floorcare.ground.trade.equipment import (
    MachinePlace,
    Rate,
    RateKind,
    StockEntry,
    StockMove,
    Supply,
)


def test_a_machine_carries_its_places_and_outages(full):
    full.add("machine_places.csv", "B-21,,MARKET,2026-01-01,")
    (machine,) = full.right().machines
    assert (machine.kind, machine.name, machine.fuel) == ("burnisher", "Burnisher 21", "")
    assert machine.places == (
        MachinePlace(branch="NORTH", site="", from_on=date(2025, 1, 1), to_on=date(2025, 12, 31)),
        MachinePlace(branch="", site="MARKET", from_on=date(2026, 1, 1)),
    )
    assert machine.out_of_order == ((date(2026, 3, 2), date(2026, 3, 6)),)


@pytest.mark.parametrize("place", ["NORTH,", ",MARKET"])
def test_a_machine_is_in_one_place_at_a_time(full, place):
    full.add("machine_places.csv", f"B-21,{place},2025-12-31,")
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("machine_places.csv", 3, "from_on")
    assert finding.problem == "the machine is in two places at once; the other is row 2"
    assert finding.mend.startswith("end the earlier one the day before with to_on; until then")
    assert finding.weight == "asks"
    places = full.read().portfolio.machines[0].places
    assert [(one.branch, one.to_on) for one in places] == [("NORTH", date(2025, 12, 31))]


@pytest.mark.parametrize(
    ("place", "mend"),
    [("NORTH,MARKET", "leave one of the two empty"), (",", "fill in branch or site")],
)
def test_a_place_is_a_branch_or_a_site(full, place, mend):
    full.add("machine_places.csv", f"B-21,{place},2026-01-01,")
    finding = full.one()
    assert (finding.row, finding.column, finding.mend) == (3, "site", mend)


def test_stock_is_counted_in_litres_or_pieces_and_gallons_become_litres(full):
    full.write(
        "stock.csv",
        "branch,material,on,move,quantity,unit\n"
        "NORTH,protector,2026-11-02,counted,10,US gal\n"
        "NORTH,densifier,2026-11-01,counted,3,pcs\n"
        "NORTH,protector,2026-11-05,used,4.5,L\n",
    )
    densifier, counted, used = full.right().stock
    assert (densifier.quantity, densifier.unit) == (3, "pieces")
    assert (counted.quantity, counted.unit) == (pytest.approx(37.85411784, rel=1e-12), "L")
    assert used == StockEntry(
        branch="NORTH",
        material="protector",
        on=date(2026, 11, 5),
        move=StockMove.USED,
        quantity=4.5,
    )


def test_use_beyond_what_was_there_is_asked_about_once(full):
    full.add(
        "stock.csv",
        "NORTH,protector,2026-11-05,used,30",
        "NORTH,protector,2026-11-06,used,10",
        "NORTH,protector,2026-11-07,used,1",
    )
    finding = full.one()
    assert (finding.file, finding.row, finding.weight) == ("stock.csv", 4, "asks")
    assert finding.problem == "more was used than there was; 2 L are missing"
    assert finding.mend == "count again, or add the delivery that is missing"


def test_use_before_the_first_count_is_nothing_to_ask(full):
    full.add(
        "stock.csv",
        "NORTH,protector,2026-10-05,used,30",
        "NORTH,protector,2026-11-05,received,20",
        "NORTH,protector,2026-11-06,used,50",
    )
    assert len(full.right().stock) == 4


def test_one_material_is_counted_in_one_unit(full):
    full.write(
        "stock.csv",
        "branch,material,on,move,quantity,unit\n"
        "NORTH,protector,2026-11-02,counted,10,\nNORTH,protector,2026-11-05,used,4,pieces\n",
    )
    finding = full.one()
    assert (finding.row, finding.column) == (3, "unit")
    assert finding.problem == "row 2 counts this material in L"


def test_a_rate_is_exact_and_sorted_by_what_it_prices(full):
    full.add(
        "rates.csv",
        'NORTH,machine hour,"1,234.505",USD,2026-01-01,,burnisher',
        "NORTH,machine hour,9,USD,2026-01-01,,scrubber",
        "NORTH,labour hour,32.25,USD,2027-01-01,,",
    )
    first, second, third, fourth = full.right().rates
    assert first == Rate(
        branch="NORTH",
        kind=RateKind.LABOUR_HOUR,
        amount=Decimal("31.50"),
        currency="USD",
        from_on=date(2026, 1, 1),
        to_on=date(2026, 12, 31),
    )
    assert second.from_on == date(2027, 1, 1)
    assert (third.amount, third.what) == (Decimal("1234.505"), "burnisher")
    assert fourth.what == "scrubber"


def test_rates_of_one_kind_may_not_overlap(full):
    full.add("rates.csv", "NORTH,labour hour,33,USD,2026-12-31,,")
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("rates.csv", 3, "from_on")
    assert finding.problem == "two rates of one labour hour overlap; the other is row 2"


def test_a_rate_in_another_currency_than_the_branchs_is_asked_about(full):
    full.change("rates.csv", "USD", "EUR")
    finding = full.one()
    assert (finding.column, finding.value, finding.weight) == ("currency", "EUR", "asks")
    assert finding.problem == "branch NORTH reckons in USD"


@pytest.mark.parametrize(
    ("name", "old", "new", "column", "mend"),
    [
        ("machines.csv", "burnisher", "burnischer", "kind", 'write "burnisher" if that is meant'),
        ("machine_places.csv", "B-21", "B21", "machine", 'write "B-21" if that is meant'),
        ("machine_places.csv", "NORTH", "NORD", "branch", 'write "NORTH" if that is meant'),
        ("machine_places.csv", "NORTH,", ",QUAY", "site", "add it to sites.csv or correct"),
        ("machine_places.csv", "2025-12-31", "2024-12-31", "to_on", "correct one of the two"),
        ("machine_outages.csv", "B-21", "B-12", "machine", 'write "B-21" if that is meant'),
        ("machine_outages.csv", "2026-03-06", "2026-03-01", "to_on", "correct one of the two"),
        ("stock.csv", "38", "-38", "quantity", "correct the sign"),
        ("stock.csv", "protector", "protecter", "material", 'write "protector" if that is meant'),
        ("stock.csv", "NORTH", "NORD", "branch", 'write "NORTH" if that is meant'),
        ("stock.csv", "2026-11-02", "2026-12-02", "on", "correct the date"),
        ("stock.csv", "counted", "lost", "move", "write one of the allowed words"),
        ("rates.csv", "USD", "dollars", "currency", "write such as USD or EUR"),
        ("rates.csv", "31.50", "-31.50", "amount", "correct the sign"),
        ("rates.csv", "labour hour", "machine hour", "what", "write its code"),
        ("rates.csv", "2026-12-31,", "2026-12-31,burnisher", "what", "leave it empty"),
        ("rates.csv", "2026-12-31", "2025-12-31", "to_on", "correct one of the two dates"),
    ],
)
def test_what_cannot_be_of_equipment_is_a_finding_with_its_mend(full, name, old, new, column, mend):
    full.change(name, old, new)
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == (name, 2, column)
    assert finding.weight == "stops"
    assert finding.mend.startswith(mend)


def test_a_rate_for_a_machine_no_surface_knows_names_those_there_are(full):
    full.add("rates.csv", "NORTH,machine hour,9,USD,2026-01-01,,scruber")
    finding = full.one()
    assert (finding.column, finding.allowed) == ("what", "burnisher, scrubber")
    assert finding.mend == 'write "scrubber" if that is meant'


@pytest.mark.parametrize(
    ("name", "row", "column"),
    [
        ("machines.csv", "B-21,scrubber,Again", "machine"),
        ("machine_outages.csv", "B-21,2026-03-02,2026-03-03", "from_on"),
        ("stock.csv", "NORTH,protector,2026-11-02,counted,3", "on"),
    ],
)
def test_what_is_given_twice_names_the_row_of_the_first(full, name, row, column):
    full.add(name, row)
    finding = full.one()
    assert (finding.file, finding.column) == (name, column)
    assert "given twice; the first stands in row 2" in finding.problem


def test_supplies_are_bought_in_litres_or_pieces_and_gallons_become_litres(full):
    full.write(
        "supplies.csv",
        "branch,material,pack,unit,lead_days,reserve\n"
        "NORTH,protector,5,US gal,7,1\n"
        "NORTH,densifier,5,pcs,,\n",
    )
    pads, protector = full.right().supplies
    assert (protector.pack, protector.reserve, protector.unit) == (
        pytest.approx(18.92705892, rel=1e-12),
        pytest.approx(3.785411784, rel=1e-12),
        "L",
    )
    assert pads == Supply(branch="NORTH", material="densifier", pack=5.0, unit="pieces")


def test_a_supply_is_in_the_unit_its_stock_is_counted_in(full):
    full.write("supplies.csv", "branch,material,pack,unit\nNORTH,protector,5,pieces\n")
    finding = full.one()
    assert (finding.file, finding.row, finding.column) == ("supplies.csv", 2, "unit")
    assert finding.problem == "the branch counts this material in L"
    assert finding.mend == "write L, or correct stock.csv"


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("NORD,protector,5,L,7,1", "branch"),
        ("NORTH,protector,0,L,7,1", "pack"),
        ("NORTH,protector,5,L,-7,1", "lead_days"),
        ("NORTH,protector,5,L,7.5,1", "lead_days"),
        ("NORTH,protector,5,L,7,-1", "reserve"),
    ],
)
def test_a_supply_that_cannot_be_is_told(full, row, column):
    full.write("supplies.csv", f"branch,material,pack,unit,lead_days,reserve\n{row}\n")
    assert (full.one().file, full.one().column) == ("supplies.csv", column)


def test_one_material_has_one_supply_at_a_branch(full):
    full.add("supplies.csv", "NORTH,protector,20,7,5")
    assert full.one().row == 3
