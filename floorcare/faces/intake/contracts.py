"""Contracts with their terms, fees and exclusions out of their rows."""

from collections.abc import Iterator
from typing import Any

from floorcare.faces.intake.column import FileKind
from floorcare.faces.intake.columns import CUSTOMERS, PROMISES, SITES
from floorcare.faces.intake.columns_contracts import CONTRACTS, EXCLUSIONS, FEES, TERMS
from floorcare.faces.intake.drafts import ContractDraft, TermDraft
from floorcare.faces.intake.gathering import Gathering
from floorcare.faces.intake.lines import Line
from floorcare.faces.intake.notes import nearest
from floorcare.ground.trade.contract import Exclusion, FeeKind, FeeLine


def take_contracts(lines: Iterator[Line], so_far: Gathering) -> None:
    """Contracts by code."""
    seen: dict[Any, int] = {}
    for line in lines:
        code = line.cells["contract"]
        if code is None:
            continue
        if so_far.first_of(CONTRACTS, line, seen, code, "contract", "the contract"):
            so_far.contracts[code] = ContractDraft(line)
            so_far.names(CONTRACTS, line, "customer", so_far.customers, CUSTOMERS)


def take_terms(lines: Iterator[Line], so_far: Gathering) -> None:
    """Terms, onto their contracts; two of one contract may not overlap."""
    for line in lines:
        contract = _contract_of(TERMS, line, so_far)
        starts_on, ends_on = line.cells["starts_on"], line.cells["ends_on"]
        good = so_far.in_order(TERMS, line, "starts_on", "ends_on")
        cap_on = line.cells["cap_on"]
        if cap_on is not None and ends_on is not None and ends_on > cap_on:
            problem = f"the term ends on {ends_on}, after the cap of its contract"
            mend = "correct one of the two dates"
            so_far.note("stops", TERMS, line, "cap_on", problem, mend=mend)
            good = False
        if contract is None or not good or starts_on is None:
            continue
        others = [
            so_far.days_of(term.line, "starts_on", "ends_on") for term in contract.terms.values()
        ]
        problem = "two terms of one contract overlap"
        mend = "let one term end the day before the next starts"
        if so_far.meets_none(
            TERMS, line, others, problem, first="starts_on", last="ends_on", mend=mend
        ):
            contract.terms[starts_on] = TermDraft(line)


def take_fees(lines: Iterator[Line], so_far: Gathering) -> None:
    """Fees, onto the term they name by its first day."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells = line.cells
        contract = _contract_of(FEES, line, so_far)
        term = None if contract is None else _term_of(line, contract, so_far)
        good = _worked(line, so_far) and so_far.names(FEES, line, "site", so_far.sites, SITES)
        if contract is None or term is None or not (good and line.fits):
            continue
        key = tuple(cells[column] for column in ("contract", "starts_on", "kind", "site", "work"))
        if so_far.first_of(FEES, line, seen, key, "kind", "this fee of the term"):
            _ask_about_customer(FEES, line, contract, so_far)
            term.fees.append(
                FeeLine(
                    kind=cells["kind"],
                    amount=cells["amount"],
                    site=cells["site"],
                    work=cells["work"] or "",
                )
            )


def take_exclusions(lines: Iterator[Line], so_far: Gathering) -> None:
    """Exclusions, onto their contracts."""
    seen: dict[Any, int] = {}
    for line in lines:
        cells = line.cells
        contract, site = _contract_of(EXCLUSIONS, line, so_far), so_far.site_of(EXCLUSIONS, line)
        good = so_far.in_order(EXCLUSIONS, line)
        if cells["zone"] and site is not None:
            good = so_far.zone_of(EXCLUSIONS, line) is not None and good
        if contract is None or site is None or not (good and line.fits):
            continue
        key = tuple(cells[column] for column in ("contract", "site", "zone", "from_on", "cause"))
        if so_far.first_of(EXCLUSIONS, line, seen, key, "from_on", "this exclusion"):
            _ask_about_customer(EXCLUSIONS, line, contract, so_far)
            contract.exclusions.append(
                Exclusion(
                    site=site.code,
                    zone=cells["zone"],
                    from_on=cells["from_on"],
                    to_on=cells["to_on"],
                    cause=cells["cause"],
                    evidence=cells["evidence"],
                )
            )


def ask_about_term(line: Line, so_far: Gathering) -> None:
    """Ask about a promise whose contract is not known, or of which no term covers its days.

    Where there is no contracts.csv, a contract is only its code and nothing is asked.
    """
    cells, code = line.cells, line.cells["contract"]
    if CONTRACTS.name not in so_far.given or CONTRACTS.name in so_far.unread:
        return
    contract = so_far.contracts.get(code)
    if contract is None:
        problem = "contracts.csv does not name this contract"
        near = nearest(code, so_far.contracts, "add it to contracts.csv")
        so_far.note("asks", PROMISES, line, "contract", problem, mend=near)
    elif TERMS.name not in so_far.unread and not contract.covers(
        cells["starts_on"], cells["ends_on"]
    ):
        problem = (
            f"no term of {code} in terms.csv covers the promise "
            f"from {cells['starts_on']} to {cells['ends_on']}"
        )
        mend = "add the term, or correct the promise's dates"
        so_far.note("asks", PROMISES, line, "contract", problem, mend=mend)


def _contract_of(kind: FileKind, line: Line, so_far: Gathering) -> ContractDraft | None:
    so_far.names(kind, line, "contract", so_far.contracts, CONTRACTS)
    return so_far.contracts.get(line.cells["contract"])


def _term_of(line: Line, contract: ContractDraft, so_far: Gathering) -> TermDraft | None:
    starts_on = line.cells["starts_on"]
    term = contract.terms.get(starts_on)
    if term is None and starts_on is not None and TERMS.name not in so_far.unread:
        starts = ", ".join(str(day) for day in sorted(contract.terms))
        so_far.note(
            "stops",
            FEES,
            line,
            "starts_on",
            "the contract has no term in terms.csv that starts on this day",
            allowed=starts,
            mend="write the first day of one of its terms" if starts else "add the term first",
        )
    return term


def _worked(line: Line, so_far: Gathering) -> bool:
    """Whether a fee names its work where it is paid per work, and there alone."""
    kind = line.cells["kind"]
    if kind is None or (kind is FeeKind.PER_WORK) == bool(line.typed("work")):
        return True
    if kind is FeeKind.PER_WORK:
        problem, mend = "a fee per work needs its work", "name the treatment that is paid"
    else:
        problem, mend = f"work belongs to a fee {FeeKind.PER_WORK}", "leave it empty"
    so_far.note("stops", FEES, line, "work", problem, mend=mend)
    return False


def _ask_about_customer(
    kind: FileKind, line: Line, contract: ContractDraft, so_far: Gathering
) -> None:
    """Ask where a site belongs to another customer than the contract."""
    site, ours = so_far.sites.get(line.cells["site"]), contract.line.cells["customer"]
    theirs = None if site is None else site.line.cells["customer"]
    if theirs is not None and theirs != ours:
        problem = f"the site belongs to customer {theirs}, the contract to {ours}"
        so_far.note("asks", kind, line, "site", problem, mend="correct the site or the contract")
