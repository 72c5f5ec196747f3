"""The sample's people, machines and contracts: what they must show, and that they fit together."""

import re
from datetime import date, timedelta

from floorcare.ground.trade.book import Portfolio
from floorcare.store.surfaces import load_surfaces
from tests.sampled import AS_OF, key, rows, taken_sample

FIRST_WEEK = (date(2026, 11, 30), date(2026, 12, 6))
"""The week the demo makes its lists for."""


def sample() -> Portfolio:
    return taken_sample().portfolio


def test_every_branch_sends_as_many_crews_of_two_as_its_record_says() -> None:
    portfolio = sample()
    for branch in portfolio.branches:
        crews = [c for c in portfolio.crews if c.branch == branch.code]
        assert len(crews) == 3
        assert all(len(c.members_on(AS_OF)) == branch.crew_size for c in crews)
        week = [AS_OF + timedelta(days=n) for n in range(7)]
        nights = [s for c in crews for day in week if (s := c.shift_on(day)) is not None]
        assert len(nights) == branch.crews * len(branch.weekdays)
        assert {s.minutes - s.break_minutes for s in nights} == {branch.shift_minutes}


def test_somebody_is_on_shift_while_a_site_is_open() -> None:
    """Two hours at least, every week, by the clock of the branch, which is the site's."""
    for book in sample().books:
        crews = [c for c in sample().crews if c.branch == book.site.branch_on(AS_OF)]
        shared = 0
        for window in book.site.windows:
            for day in range(7):
                if day not in window.weekdays:
                    continue
                opens = day * 1440 + window.starts_minute
                length = (window.ends_minute - window.starts_minute) % 1440 or 1440
                for shift in (s for c in crews for s in c.shifts):
                    for on in shift.weekdays:
                        begins = on * 1440 + shift.starts_minute
                        until = min(opens + length, begins + shift.minutes)
                        shared = max(shared, until - max(opens, begins))
        assert shared >= 120, book.site.code


def test_every_worker_of_a_branch_has_what_its_sites_ask_for_but_two_run_out() -> None:
    running_out = set()
    for book in sample().books:
        needed = [r.name for r in book.requirements if r.each_worker]
        for worker in sample().workers:
            if worker.branch != book.site.branch_on(AS_OF) or not worker.works_on(AS_OF):
                continue
            for name in needed:
                assert worker.holds(name, AS_OF), (worker.code, name)
                if not worker.holds(name, date(2026, 12, 31)):
                    running_out.add((worker.code, name))
    assert running_out == {("W-DORA", "museum induction"), ("W-LUTZ", "airside badge")}


def test_in_the_week_of_the_lists_a_paper_and_a_permit_run_out_and_a_machine_is_broken() -> None:
    first, last = FIRST_WEEK
    papers = [
        (worker.code, paper.name)
        for worker in sample().workers
        for paper in worker.qualifications
        if paper.expires_on is not None and first <= paper.expires_on <= last
    ]
    assert papers == [("W-DORA", "museum induction")]
    permits = [
        (book.site.code, asked.kind)
        for book in sample().books
        for asked in book.requirements
        if asked.expires_on is not None and first <= asked.expires_on <= last
    ]
    assert permits == [("GRAUENHOF", "permit")]
    broken = [m.code for m in sample().machines if not m.works_on(first)]
    assert broken == ["F-EP2"]


def test_every_kind_of_machine_a_method_needs_is_owned_but_of_one_there_is_one_a_branch() -> None:
    surfaces = load_surfaces()
    for branch in sample().branches:
        sites = {b.site.code: b for b in sample().books if b.site.branch_on(AS_OF) == branch.code}
        used = {z.zone.spans[0].surface for b in sites.values() for z in b.zones}
        needed = {
            step.machine
            for code in used
            for rung in surfaces[code].methods.values()
            for step in rung.steps
            if step.machine
        }
        kinds = [
            machine.kind
            for machine in sample().machines
            if (place := machine.place_on(AS_OF)) is not None
            and (place.branch == branch.code or place.site in sites)
        ]
        assert needed <= set(kinds), branch.code
        assert kinds.count("planetary_polisher") == 1


def test_every_reading_was_taken_with_a_meter_in_calibration() -> None:
    meters = {m.code: m for m in sample().instruments}
    for row in rows("readings.csv"):
        meter = meters[row["instrument"]]
        assert meter.measure == row["measure"]
        assert meter.calibrated_on(date.fromisoformat(row["taken_at"][:10])), row
    for bridge in sample().bridges:
        assert {meters[bridge.first].measure, meters[bridge.second].measure} == {"gloss"}


def test_contracts_are_those_the_promises_name_and_one_nears_its_notice_date() -> None:
    contracts = {c.code: c for c in sample().contracts}
    assert set(contracts) == {row["contract"] for row in rows("promises.csv")}
    customer_of = {f"C-{b.site.code}": b.site.customer for b in sample().books}
    assert {code: c.customer for code, c in contracts.items()} == customer_of
    for row in rows("promises.csv"):
        term = contracts[row["contract"]].term_on(date.fromisoformat(row["starts_on"]))
        assert term is not None
        assert term.ends_on.isoformat() == row["ends_on"]
    near = {
        code
        for code, contract in contracts.items()
        for term in contract.terms
        if AS_OF <= min(term.our_notice_on, term.their_notice_on) <= AS_OF + timedelta(days=30)
    }
    assert near == {"C-LIBRARY"}
    assert all(c.terms[0].fees for c in contracts.values())
    (excluded,) = (e for c in contracts.values() for e in c.exclusions)
    assert (excluded.site, excluded.zone) == ("MUSEUM", "EAST-GALLERY")
    nobody = [
        row
        for row in rows("traffic.csv")
        if key(row) == "MUSEUM/EAST-GALLERY" and row["per_day"] == "0.0"
    ]
    assert str(excluded.from_on) == min(row["from_on"] for row in nobody)
    assert str(excluded.to_on) == max(row["to_on"] for row in nobody)


def test_its_people_are_invented() -> None:
    for name in ("contacts.csv", "people.csv"):
        for row in rows(name):
            assert re.fullmatch(r"\w+ [A-Z]\.", row["name"]), row
            assert row["email"].endswith("@example.org"), row
    for row in rows("contacts.csv"):
        assert re.fullmatch(r"|\d{3}-555-01\d\d", row["phone"]), row
    assert all(re.fullmatch(r"\w+ [A-Z]\.", row["name"]) for row in rows("workers.csv"))


def test_one_call_is_open_and_the_others_were_closed_after_they_came_in() -> None:
    calls = sample().calls
    assert [c.zone for c in calls if c.closed_at is None] == ["FOYER-LANE"]
    assert all(c.received_at < c.closed_at for c in calls if c.closed_at is not None)
