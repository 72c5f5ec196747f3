"""Every document: a new one is a file beside this and a line here; the commands list it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from floorcare.faces.documents.backtest_page import write_backtest_csv, write_backtest_html
from floorcare.faces.documents.compare_page import write_compare_csv, write_compare_html
from floorcare.faces.documents.compare_picture import write_compare_svg
from floorcare.faces.documents.condition_table import (
    write_condition_csv,
    write_condition_html,
    write_condition_xlsx,
)
from floorcare.faces.documents.contract_history_csv import write_contract_history_csv
from floorcare.faces.documents.contract_history_html import write_contract_history_html
from floorcare.faces.documents.contract_history_pdf import write_contract_history_pdf
from floorcare.faces.documents.load_out_csv import write_load_out_csv
from floorcare.faces.documents.load_out_html import write_load_out_html
from floorcare.faces.documents.load_out_pdf import write_load_out_pdf
from floorcare.faces.documents.material_order_csv import write_material_order_csv
from floorcare.faces.documents.material_order_html import write_material_order_html
from floorcare.faces.documents.material_order_pdf import write_material_order_pdf
from floorcare.faces.documents.round_sheet_csv import write_round_sheet_csv
from floorcare.faces.documents.round_sheet_html import write_round_sheet_html
from floorcare.faces.documents.round_sheet_pdf import write_round_sheet_pdf
from floorcare.faces.documents.visit_list_csv import write_visit_list_csv
from floorcare.faces.documents.visit_list_html import write_visit_list_html
from floorcare.faces.documents.visit_list_pdf import write_visit_list_pdf
from floorcare.faces.documents.week_sheet_csv import write_week_sheet_csv
from floorcare.faces.documents.week_sheet_html import write_week_sheet_html
from floorcare.faces.documents.week_sheet_pdf import write_week_sheet_pdf
from floorcare.faces.documents.zone_chart import write_zone_chart
from floorcare.services.backtest_wear import Backtest
from floorcare.services.choose_rounds import RoundSheet
from floorcare.services.compare_plans import PlansCompared
from floorcare.services.load_out_sheet import LoadOutSheet
from floorcare.services.order_material import OrderSheet
from floorcare.services.sheets import ConditionTable, WeekLists, ZoneChart
from floorcare.services.show_contracts import ContractHistory
from floorcare.services.week_sheet import WeekSheet

View = TypeVar(
    "View",
    bound=Backtest
    | ContractHistory
    | LoadOutSheet
    | OrderSheet
    | PlansCompared
    | RoundSheet
    | WeekLists
    | WeekSheet
    | ConditionTable
    | ZoneChart,
)


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


def _sheet(
    name: str,
    *,
    pdf: Callable[[View], bytes],
    html: Callable[[View], bytes],
    csv: Callable[[View], bytes],
) -> tuple[Document[View], ...]:
    """A sheet to print, to open in a browser and to read into a table."""
    return (
        Document(name=name, media_type="application/pdf", suffix=".pdf", write=pdf),
        Document(name=name, media_type=HTML, suffix=".html", write=html),
        Document(name=name, media_type=CSV, suffix=".csv", write=csv),
    )


VISIT_LISTS: tuple[Document[WeekLists], ...] = _sheet(
    "visit list", pdf=write_visit_list_pdf, html=write_visit_list_html, csv=write_visit_list_csv
)
WEEK_SHEETS: tuple[Document[WeekSheet], ...] = _sheet(
    "week sheet", pdf=write_week_sheet_pdf, html=write_week_sheet_html, csv=write_week_sheet_csv
)
LOAD_OUTS: tuple[Document[LoadOutSheet], ...] = _sheet(
    "load-out", pdf=write_load_out_pdf, html=write_load_out_html, csv=write_load_out_csv
)
MATERIAL_ORDERS: tuple[Document[OrderSheet], ...] = _sheet(
    "material order",
    pdf=write_material_order_pdf,
    html=write_material_order_html,
    csv=write_material_order_csv,
)
CONDITION_TABLES: tuple[Document[ConditionTable], ...] = (
    Document(name="condition table", media_type=HTML, suffix=".html", write=write_condition_html),
    Document(name="condition table", media_type=CSV, suffix=".csv", write=write_condition_csv),
    Document(name="condition table", media_type=XLSX, suffix=".xlsx", write=write_condition_xlsx),
)
ZONE_CHARTS: tuple[Document[ZoneChart], ...] = (
    Document(name="zone chart", media_type="image/svg+xml", suffix=".svg", write=write_zone_chart),
)
CONTRACT_HISTORIES: tuple[Document[ContractHistory], ...] = _sheet(
    "contract history",
    pdf=write_contract_history_pdf,
    html=write_contract_history_html,
    csv=write_contract_history_csv,
)
ROUND_SHEETS: tuple[Document[RoundSheet], ...] = _sheet(
    "round sheet", pdf=write_round_sheet_pdf, html=write_round_sheet_html, csv=write_round_sheet_csv
)
BACKTESTS: tuple[Document[Backtest], ...] = (
    Document(name="backtest", media_type=HTML, suffix=".html", write=write_backtest_html),
    Document(name="backtest", media_type=CSV, suffix=".csv", write=write_backtest_csv),
)
COMPARISONS: tuple[Document[PlansCompared], ...] = (
    Document(name="comparison", media_type=HTML, suffix=".html", write=write_compare_html),
    Document(name="comparison", media_type=CSV, suffix=".csv", write=write_compare_csv),
    Document(name="comparison", media_type="image/svg+xml", suffix=".svg", write=write_compare_svg),
)
