"""Approved outputs. To approve a change, look at it, then run with FLOORCARE_APPROVE=1."""

import os
from pathlib import Path

import pytest

from floorcare.faces.documents.catalogue import CONDITION_TABLES, VISIT_LISTS
from floorcare.faces.feeds.write import write_calendar
from tests.golden.sheets import CALENDAR, CONDITION, WEEK

HERE = Path(__file__).parent
TEXT = (".html", ".csv")

MADE = {"market.ics": lambda: write_calendar(CALENDAR)}
for document in VISIT_LISTS:
    if document.suffix in TEXT:
        MADE["visit_list" + document.suffix] = lambda d=document: d.write(WEEK)
for document in CONDITION_TABLES:
    if document.suffix in TEXT:
        MADE["condition" + document.suffix] = lambda d=document: d.write(CONDITION)


@pytest.mark.parametrize("name", MADE)
def test_output_is_the_approved_one(name):
    made = MADE[name]()
    approved = HERE / name
    if os.environ.get("FLOORCARE_APPROVE") == "1":
        approved.write_bytes(made)
    assert approved.read_bytes() == made
