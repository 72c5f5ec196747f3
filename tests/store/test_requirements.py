from dataclasses import replace
from datetime import date

from floorcare.ground.trade.people import RequirementKind, SiteRequirement
from tests.store.means import REQUIREMENT, with_means
from tests.store.sample import LATER, portfolio, site_book


def test_requirements_come_back_sorted_by_kind_and_name(put, read):
    paper = SiteRequirement(
        kind=RequirementKind.CERTIFICATE,
        name="silica plan",
        each_worker=False,
        expires_on=date(2026, 9, 30),
    )
    put(portfolio(replace(site_book(), requirements=(REQUIREMENT, paper))))
    assert read("books")[0].requirements == (paper, REQUIREMENT)


def test_a_later_expiry_changes_the_requirement_and_the_plans_of_its_branch(put, read):
    put(with_means())
    until = replace(REQUIREMENT, expires_on=date(2027, 1, 31))
    put(portfolio(replace(site_book(), requirements=(until,))), now=LATER)
    assert read("books")[0].requirements == (until,)
    assert read("revisions") == {"EAST": 2, "WEST": 1}
