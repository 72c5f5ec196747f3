import subprocess
import sys

import pytest

from floorcare.faces.documents.catalogue import CONDITION_TABLES, VISIT_LISTS
from tests.golden.sheets import CONDITION, WEEK

STARTS = {".pdf": b"%PDF-", ".html": b"<!doctype html>", ".csv": b"\xef\xbb\xbf", ".xlsx": b"PK"}
ALL = [(document, WEEK) for document in VISIT_LISTS]
ALL += [(document, CONDITION) for document in CONDITION_TABLES]


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
