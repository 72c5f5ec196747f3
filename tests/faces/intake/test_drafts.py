from datetime import date

from floorcare.faces.intake.drafts import ContractDraft, MeterDraft, SiteDraft, TermDraft, ZoneDraft
from floorcare.faces.intake.lines import Line
from floorcare.ground.trade.equipment import Calibration


def line(**cells):
    texts = [str(value or "") for value in cells.values()]
    return Line(2, cells, texts, {name: at for at, name in enumerate(cells)}, True)


def zone(code, from_on, to_on, parents=()):
    return ZoneDraft(code, [line(from_on=from_on, to_on=to_on, parents=parents)])


def term(ends_on):
    return TermDraft(line(ends_on=ends_on))


def test_kin_are_found_up_and_down_over_every_split():
    split, merged = date(2025, 1, 1), date(2026, 1, 1)
    zones = [
        zone("ALL", date(2020, 1, 1), date(2024, 12, 31)),
        zone("NORTH", split, date(2025, 12, 31), ("ALL",)),
        zone("SOUTH", split, None, ("ALL",)),
        zone("NEW", merged, None, ("NORTH",)),
    ]
    site = SiteDraft("MARKET", line(), zones={each.code: each for each in zones})

    def kin(code, on):
        return [each.code for each in site.kin_on(site.zones[code], on)]

    assert kin("ALL", date(2025, 6, 1)) == ["NORTH", "SOUTH"]
    assert kin("ALL", date(2026, 6, 1)) == ["SOUTH", "NEW"]
    assert kin("NEW", date(2025, 6, 1)) == ["NORTH"]
    assert kin("NEW", date(2024, 6, 1)) == ["ALL"]
    assert kin("SOUTH", date(2026, 6, 1)) == []


def test_zones_that_name_each_other_as_parents_are_walked_once():
    one = zone("A", date(2025, 1, 1), None, ("B",))
    other = zone("B", date(2025, 1, 1), None, ("A",))
    site = SiteDraft("MARKET", line(), zones={"A": one, "B": other})
    assert site.kin_on(one, date(2025, 6, 1)) == [other]


def test_a_calibration_covers_both_its_days():
    meter = MeterDraft(line(), [Calibration(done_on=date(2026, 1, 1), valid_to=date(2026, 12, 31))])
    days = [date(2025, 12, 31), date(2026, 1, 1), date(2026, 12, 31), date(2027, 1, 1)]
    assert [meter.calibrated_on(day) for day in days] == [False, True, True, False]


def test_terms_that_follow_each_other_cover_together_and_a_gap_breaks_them():
    years = {date(year, 1, 1): term(date(year, 12, 31)) for year in (2025, 2026, 2028)}
    contract = ContractDraft(line(), years)
    assert contract.covers(date(2025, 3, 1), date(2026, 12, 31))
    assert not contract.covers(date(2025, 3, 1), date(2027, 1, 1))
    assert not contract.covers(date(2026, 12, 31), date(2028, 2, 1))
    assert not contract.covers(date(2024, 12, 31), date(2025, 2, 1))
    assert contract.covers(date(2028, 1, 1), date(2028, 1, 1))
