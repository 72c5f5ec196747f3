"""Contracts in and out of the store, with their terms, fees and exclusions."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row, select

from floorcare.ground.trade.contract import (
    Contract,
    Exclusion,
    FeeKind,
    FeeLine,
    RenewalKind,
    Term,
)
from floorcare.store import contract_rows, rows
from floorcare.store.known import Known
from floorcare.store.merge import Kind, Merged, Writer, ids_by, merge

CONTRACTS = Kind(
    table=contract_rows.contract,
    word="contracts",
    key=("code",),
    values=("customer_id", "name", "currency"),
    parented=False,
)
TERMS = Kind(
    table=contract_rows.term,
    word="terms",
    key=("contract_id", "starts_on"),
    values=("ends_on", "our_notice_days", "their_notice_days", "renewal", "cap_on"),
)
FEES = Kind(
    table=contract_rows.fee_line,
    word="fees",
    key=("term_id", "kind", "site_id", "work"),
    values=("amount",),
)
EXCLUSIONS = Kind(
    table=contract_rows.exclusion,
    word="exclusions",
    key=("contract_id", "site_id", "zone_id", "from_on", "cause"),
    values=("to_on", "evidence"),
)


def put_contracts(
    writer: Writer, contracts: Iterable[Contract], known: Known
) -> tuple[Merged, Merged, Merged, Merged]:
    """Bring contracts in, with their terms, fees and exclusions.

    Raises
    ------
    NotKnown : a customer, or the site or zone of a fee or exclusion, is not known.
    """
    listed = tuple(contracts)
    merged = merge(writer, CONTRACTS, (_contract_row(one, known) for one in listed))
    c = contract_rows.contract.c
    ids = ids_by(writer.connection, c.code)
    terms = merge(
        writer,
        TERMS,
        (_term_row(ids[one.code], term) for one in listed for term in one.terms),
    )
    t = contract_rows.term.c
    term_ids = ids_by(writer.connection, t.contract_id, t.starts_on)
    fees = (
        (
            term_ids[ids[one.code], term.starts_on],
            fee.kind.value,
            known.maybe(rows.site, fee.site, f"fee of contract {one.code}"),
            fee.work,
            fee.amount,
        )
        for one in listed
        for term in one.terms
        for fee in term.fees
    )
    excluded = (
        _exclusion_row(ids[one.code], exclusion, f"exclusion of contract {one.code}", known)
        for one in listed
        for exclusion in one.exclusions
    )
    return merged, terms, merge(writer, FEES, fees), merge(writer, EXCLUSIONS, excluded)


def _contract_row(one: Contract, known: Known) -> tuple[Any, ...]:
    customer_id = known.id(rows.customer, one.customer, f"contract {one.code}")
    return (one.code, customer_id, one.name, one.currency)


def _term_row(contract_id: int, term: Term) -> tuple[Any, ...]:
    notice = (term.our_notice_days, term.their_notice_days)
    return (contract_id, term.starts_on, term.ends_on, *notice, term.renewal.value, term.cap_on)


def _exclusion_row(
    contract_id: int, exclusion: Exclusion, where: str, known: Known
) -> tuple[Any, ...]:
    return (
        contract_id,
        known.id(rows.site, exclusion.site, where),
        known.maybe_zone(exclusion.site, exclusion.zone, where),
        exclusion.from_on,
        exclusion.cause,
        exclusion.to_on,
        exclusion.evidence,
    )


def contracts_of(connection: Connection) -> tuple[Contract, ...]:
    """Every contract, whole, sorted by code, in four statements."""
    fees: defaultdict[int, list[FeeLine]] = defaultdict(list)
    fee, site, zone = contract_rows.fee_line, rows.site, rows.zone
    for row in connection.execute(
        select(fee, site.c.code.label("site")).outerjoin(site, fee.c.site_id == site.c.id)
    ):
        fees[row.term_id].append(fee_from_row(row))
    terms: defaultdict[int, list[Term]] = defaultdict(list)
    for row in connection.execute(select(contract_rows.term)):
        ordered = tuple(sorted(fees[row.id], key=fee_order))
        terms[row.contract_id].append(term_from_row(row, ordered))
    excluded: defaultdict[int, list[Exclusion]] = defaultdict(list)
    exclusion = contract_rows.exclusion
    for row in connection.execute(
        select(exclusion, site.c.code.label("site"), zone.c.code.label("zone"))
        .join(site, exclusion.c.site_id == site.c.id)
        .outerjoin(zone, exclusion.c.zone_id == zone.c.id)
    ):
        excluded[row.contract_id].append(exclusion_from_row(row))
    contract, customer = contract_rows.contract, rows.customer
    listed = (
        Contract(
            code=row.code,
            customer=row.customer,
            name=row.name,
            currency=row.currency,
            terms=tuple(sorted(terms[row.id], key=lambda t: t.starts_on)),
            exclusions=tuple(sorted(excluded[row.id], key=exclusion_order)),
        )
        for row in connection.execute(
            select(contract, customer.c.code.label("customer")).join(customer)
        )
    )
    return tuple(sorted(listed, key=lambda c: c.code))


def term_from_row(row: Row[Any], fees: tuple[FeeLine, ...]) -> Term:
    """The term of a row, with its fees."""
    return Term(
        starts_on=row.starts_on,
        ends_on=row.ends_on,
        our_notice_days=row.our_notice_days,
        their_notice_days=row.their_notice_days,
        renewal=RenewalKind(row.renewal),
        cap_on=row.cap_on,
        fees=fees,
    )


def fee_from_row(row: Row[Any]) -> FeeLine:
    """The fee of a row."""
    return FeeLine(kind=FeeKind(row.kind), amount=row.amount, site=row.site or "", work=row.work)


def fee_order(fee: FeeLine) -> tuple[str, str, str]:
    """The order in which a term's fees stand; no two share it."""
    return (fee.kind, fee.site, fee.work)


def exclusion_from_row(row: Row[Any]) -> Exclusion:
    """The exclusion of a row."""
    return Exclusion(
        site=row.site,
        zone=row.zone or "",
        from_on=row.from_on,
        to_on=row.to_on,
        cause=row.cause,
        evidence=row.evidence,
    )


def exclusion_order(exclusion: Exclusion) -> tuple[Any, ...]:
    """The order in which a contract's exclusions stand; no two share it."""
    return (exclusion.from_on, exclusion.site, exclusion.zone, exclusion.cause)
