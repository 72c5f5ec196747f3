"""Approved outputs. To approve a change, look at it, then run with FLOORCARE_APPROVE=1."""

import os
from pathlib import Path

import pytest

from floorcare.faces.documents.catalogue import (
    CONDITION_TABLES,
    CONTRACT_HISTORIES,
    ROUND_SHEETS,
    VISIT_LISTS,
    WEEK_SHEETS,
    ZONE_CHARTS,
)
from floorcare.faces.feeds.write import write_calendar
from tests.golden import contract_sheets
from tests.golden.charts import ASSUMED, MEASURED
from tests.golden.rounds import ROUND
from tests.golden.sheets import CALENDAR, CONDITION, WEEK
from tests.golden.week import WEEK_SHEET

HERE = Path(__file__).parent
TEXT = (".html", ".csv")

MADE = {
    "market.ics": lambda: write_calendar(CALENDAR),
    "contract.ics": lambda: write_calendar(contract_sheets.CALENDAR),
}
for document in VISIT_LISTS:
    if document.suffix in TEXT:
        MADE["visit_list" + document.suffix] = lambda d=document: d.write(WEEK)
for document in WEEK_SHEETS:
    if document.suffix in TEXT:
        MADE["week_sheet" + document.suffix] = lambda d=document: d.write(WEEK_SHEET)
for document in CONDITION_TABLES:
    if document.suffix in TEXT:
        MADE["condition" + document.suffix] = lambda d=document: d.write(CONDITION)
for document in ZONE_CHARTS:
    MADE["chart_measured" + document.suffix] = lambda d=document: d.write(MEASURED)
    MADE["chart_assumed" + document.suffix] = lambda d=document: d.write(ASSUMED)
for document in CONTRACT_HISTORIES:
    if document.suffix in TEXT:
        MADE["contract" + document.suffix] = lambda d=document: d.write(contract_sheets.HISTORY)
for document in ROUND_SHEETS:
    if document.suffix in TEXT:
        MADE["round_sheet" + document.suffix] = lambda d=document: d.write(ROUND)


@pytest.mark.parametrize("name", MADE)
def test_output_is_the_approved_one(name):
    made = MADE[name]()
    approved = HERE / name
    if os.environ.get("FLOORCARE_APPROVE") == "1":
        approved.write_bytes(made)
    assert approved.read_bytes() == made
