"""The files about a customer: contacts, what a site asks for, contracts with their terms, calls."""

from floorcare.faces.intake.column import (
    MAY,
    MUST,
    SITE,
    WITHDRAWN,
    Column,
    FileKind,
    must,
)
from floorcare.faces.intake.readers import (
    AMOUNT,
    CODE,
    CURRENCY,
    DAY,
    EMAIL,
    MOMENT,
    NAME,
    NOTE,
    UUID,
    YES_NO,
    member,
    number,
    whole,
)
from floorcare.faces.intake.workwords import TREATMENT
from floorcare.ground.trade.contract import NOTICE_DAYS_OFFERED, FeeKind, RenewalKind
from floorcare.ground.trade.people import CallKind, RequirementKind

_CONTRACT = must("contract", CODE)
_NOTICE_DAYS = whole(0, 730, "days")
_NOTICE_MEND = (
    "write the days of the clause; "
    f"{NOTICE_DAYS_OFFERED} is the usual public default (FAR 52.217-9)"
)

CONTACTS = FileKind(
    "contacts.csv",
    "a person at a customer",
    (
        must("contact", CODE),
        must("customer", CODE),
        must("name", NAME),
        Column("site", CODE, "every site of the customer", ""),
        Column("role", NAME, MAY, ""),
        Column("email", EMAIL, MAY, ""),
        Column("phone", NAME, MAY, ""),
    ),
    codes=("contact",),
)
REQUIREMENTS = FileKind(
    "requirements.csv",
    "something that must be in date to work at a site",
    (
        SITE,
        must("kind", member(RequirementKind)),
        must("name", NAME),
        must("each_worker", YES_NO),
        Column("expires_on", DAY, "never"),
    ),
)
CONTRACTS = FileKind(
    "contracts.csv",
    "an agreement with a customer",
    (
        _CONTRACT,
        must("customer", CODE),
        must("name", NAME),
        must("currency", CURRENCY),
    ),
    codes=("contract",),
)
TERMS = FileKind(
    "terms.csv",
    "one period of a contract",
    (
        _CONTRACT,
        must("starts_on", DAY),
        must("ends_on", DAY),
        Column("our_notice_days", _NOTICE_DAYS, MUST, mend=_NOTICE_MEND),
        Column("their_notice_days", _NOTICE_DAYS, MUST, mend=_NOTICE_MEND),
        must("renewal", member(RenewalKind)),
        Column("cap_on", DAY, "no cap"),
    ),
    codes=("contract", "starts_on"),
)
FEES = FileKind(
    "fees.csv",
    "one fee of a term",
    (
        _CONTRACT,
        must("starts_on", DAY),
        must("kind", member(FeeKind, {"monthly": FeeKind.MONTHLY.value})),
        must("amount", AMOUNT),
        Column("site", CODE, "every site of the contract", ""),
        Column("work", TREATMENT, "none; per work needs it"),
    ),
)
EXCLUSIONS = FileKind(
    "exclusions.csv",
    "days that do not count against us",
    (
        _CONTRACT,
        SITE,
        must("from_on", DAY),
        must("to_on", DAY),
        must("cause", NOTE),
        Column("zone", CODE, "the whole site", ""),
        Column("evidence", NOTE, MAY, ""),
    ),
)
CALLS = FileKind(
    "calls.csv",
    "what a customer reported",
    (
        must("call", UUID),
        SITE,
        Column("zone", CODE, "the whole site", ""),
        must("kind", member(CallKind)),
        must("received_at", MOMENT),
        must("reported_by", NAME),
        must("text", NOTE),
        Column("spot_m2", number(0.01, 10_000, "m²"), "unknown"),
        Column("closed_at", MOMENT, "still open"),
        WITHDRAWN,
    ),
)
