import subprocess
import sys

import pytest

from floorcare.faces.documents.catalogue import (
    BACKTESTS,
    COMPARISONS,
    CONDITION_TABLES,
    CONTRACT_HISTORIES,
    LOAD_OUTS,
    MATERIAL_ORDERS,
    ROUND_SHEETS,
    VISIT_LISTS,
    WEEK_SHEETS,
    ZONE_CHARTS,
)
from tests.golden.backtests import BACKTEST
from tests.golden.charts import MEASURED
from tests.golden.comparisons import COMPARED
from tests.golden.contract_sheets import HISTORY
from tests.golden.loads import LOADED, ORDERED
from tests.golden.rounds import ROUND
from tests.golden.sheets import CONDITION, WEEK
from tests.golden.week import WEEK_SHEET

STARTS = {".pdf": b"%PDF-", ".html": b"<!doctype html>", ".csv": b"\xef\xbb\xbf", ".xlsx": b"PK"}
STARTS[".svg"] = b"<svg xmlns="
ALL = [(document, WEEK) for document in VISIT_LISTS]
ALL += [(document, WEEK_SHEET) for document in WEEK_SHEETS]
ALL += [(document, CONDITION) for document in CONDITION_TABLES]
ALL += [(document, HISTORY) for document in CONTRACT_HISTORIES]
ALL += [(document, MEASURED) for document in ZONE_CHARTS]
ALL += [(document, ROUND) for document in ROUND_SHEETS]
ALL += [(document, LOADED) for document in LOAD_OUTS]
ALL += [(document, ORDERED) for document in MATERIAL_ORDERS]
ALL += [(document, BACKTEST) for document in BACKTESTS]
ALL += [(document, COMPARED) for document in COMPARISONS]


@pytest.mark.parametrize(("document", "view"), ALL, ids=[d.name + d.suffix for d, _ in ALL])
def test_each_document_is_of_its_kind_and_the_same_twice(document, view):
    made = document.write(view)
    assert made.startswith(STARTS[document.suffix])
    assert document.write(view) == made


def test_no_two_documents_would_have_the_same_file_name():
    names = [document.name + document.suffix for document, _ in ALL]
    assert len(set(names)) == len(names)


def test_listing_the_documents_loads_nothing_heavy():
    code = (
        "import sys, floorcare.faces.documents.catalogue, floorcare.faces.feeds.write;"
        "print([m for m in ('typst', 'jinja2', 'openpyxl', 'pandas', 'icalendar')"
        " if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
