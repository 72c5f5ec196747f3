"""Every document: a new one is a file beside this and a line here; the commands list it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from floorcare.faces.documents.condition_table import (
    write_condition_csv,
    write_condition_html,
    write_condition_xlsx,
)
from floorcare.faces.documents.visit_list_csv import write_visit_list_csv
from floorcare.faces.documents.visit_list_html import write_visit_list_html
from floorcare.faces.documents.visit_list_pdf import write_visit_list_pdf
from floorcare.services.sheets import ConditionTable, WeekLists

View = TypeVar("View", bound=WeekLists | ConditionTable)


@dataclass(frozen=True, slots=True, kw_only=True)
class Document(Generic[View]):
    """A document: `write` makes its bytes from one view, `suffix` is the file's, with its dot."""

    name: str
    media_type: str
    suffix: str
    write: Callable[[View], bytes]


XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
HTML = "text/html; charset=utf-8"
CSV = "text/csv; charset=utf-8"

VISIT_LISTS: tuple[Document[WeekLists], ...] = (
    Document(
        name="visit list", media_type="application/pdf", suffix=".pdf", write=write_visit_list_pdf
    ),
    Document(name="visit list", media_type=HTML, suffix=".html", write=write_visit_list_html),
    Document(name="visit list", media_type=CSV, suffix=".csv", write=write_visit_list_csv),
)
CONDITION_TABLES: tuple[Document[ConditionTable], ...] = (
    Document(name="condition table", media_type=HTML, suffix=".html", write=write_condition_html),
    Document(name="condition table", media_type=CSV, suffix=".csv", write=write_condition_csv),
    Document(name="condition table", media_type=XLSX, suffix=".xlsx", write=write_condition_xlsx),
)
