import dataclasses
import io
import re
from datetime import date

import pytest
from pypdf import PdfReader

from floorcare.faces.documents.contract_history_pdf import write_contract_history_pdf
from floorcare.services.show_contracts import ContractHistory
from tests.golden.contract_sheets import HISTORY, LOOSE, ROWS


def read(history: ContractHistory, **options: str) -> PdfReader:
    return PdfReader(io.BytesIO(write_contract_history_pdf(history, **options)))


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_the_same_history_gives_the_same_bytes_without_a_date():
    assert write_contract_history_pdf(HISTORY) == write_contract_history_pdf(HISTORY)
    assert read(HISTORY).metadata.creation_date is None


def test_it_is_titled_by_contract_and_term():
    assert read(HISTORY).metadata.title == (
        "Visit history, contract K-7: 1 January 2025 to 31 December 2026"
    )


@pytest.mark.parametrize(
    ("units", "paper", "size"),
    [("metric", "", (595, 842)), ("US", "", (612, 792)), ("US", "A4", (595, 842))],
)
def test_the_paper_follows_the_branch_unless_it_is_named(units, paper, size):
    box = read(dataclasses.replace(HISTORY, units=units), paper=paper).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


def test_it_says_all_that_was_promised_done_and_planned():
    said = words(read(HISTORY))
    for text in (
        "1 treatment, 2 reading rounds and 1 slip test done",
        "by the customer up to 1 May 2026",
        "gloss at least 45.3 GU, 80% of 56.6 GU",
        "policy gentlest, confidence 75%",
        "stalls rebuilt by the customer",
        "site team, reported",
        "about, ± 15 days",
        "Hall B, main lane (40% of it)",
        "wet DCOF 0.43, below 0.45",
        "nothing reported",
        "Wed 4 Mar 2026",
        "Nothing in this term.",
    ):
        assert text in said


def test_it_holds_neither_fees_nor_estimates():
    said = words(read(HISTORY))
    assert "1,850" not in said
    assert "1850" not in said
    assert "43.6" not in said


def test_years_of_nights_run_over_pages_with_their_heading_repeated():
    reader = read(
        dataclasses.replace(
            HISTORY,
            rows=tuple(
                dataclasses.replace(
                    ROWS[0],
                    zone_name=f"lane {n}",
                    on=ROWS[0].on.replace(day=1 + n % 28, month=1 + n // 28),
                )
                for n in range(200)
            ),
        )
    )
    assert len(reader.pages) > 2
    assert "Zones, and what was read" in reader.pages[2].extract_text()


def test_a_night_stays_on_one_page_unless_it_is_longer_than_one():
    def of_zones(each: int) -> PdfReader:
        rows = tuple(
            dataclasses.replace(
                ROWS[0],
                zone_name=f"lane {n % each} of {n // each}",
                on=date(2025, 3, 1 + n // each),
            )
            for n in range(each * 6)
        )
        return read(dataclasses.replace(HISTORY, rows=rows))

    for page in of_zones(25).pages[1:]:
        text = page.extract_text()
        for night in range(6):
            assert len(re.findall(rf"lane \d+ of {night}\b", text)) in (0, 25)
    assert "lane 89 of 0" in words(of_zones(90))


def test_an_empty_term_prints():
    empty = dataclasses.replace(
        HISTORY, summary=LOOSE, works=(), rhythms=(), promises=(), exclusions=(), rows=(), sites=()
    )
    assert "Nothing was done in this term" in words(read(empty))
