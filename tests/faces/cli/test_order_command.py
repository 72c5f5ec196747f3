import json

from floorcare.faces.cli.order_command import orders_said, write_orders
from floorcare.faces.cli.telling import NO_BRANCH
from floorcare.faces.documents.catalogue import MATERIAL_ORDERS
from tests.faces.cli.folders import TODAY_TEXT
from tests.faces.cli.terminal import everything_in, floorcare
from tests.golden.loads import ORDERED


def test_the_account_says_packs_day_price_and_what_is_not_reckoned():
    said = orders_said([ORDERED], ()).replace("\xa0", " ").splitlines()
    assert said[0] == (
        "Riverside: 1 material to order, the first by Monday 2 March 2026; 1 overdue."
    )
    assert " ".join(said[1].split()) == (
        "protector 1 × 10.0 L by Mon 23 Feb, overdue: order today 6.00 L held, "
        "9.00 L used by 2026-04-06"
    )
    assert said[2] == "  together 219.00 EUR"
    assert said[3].startswith("  ! supplies.csv: nobody said how it is bought")
    assert said[4].startswith("  white pad: 1,600 m² a set")


def test_nobody_to_order_for_is_said():
    assert orders_said([], ()) == NO_BRANCH


def test_orders_are_written_in_every_form(tmp_path):
    paths = write_orders([ORDERED], tmp_path)
    assert [p.name for p in paths] == [
        f"order-Riverside-2026-03-02{d.suffix}" for d in MATERIAL_ORDERS
    ]


def test_the_command_shows_writes_only_if_asked_and_changes_nothing(database, tmp_path):
    before = everything_in(database)
    assert floorcare("order", "--today", TODAY_TEXT).code == 0
    out = tmp_path / "orders"
    answer = floorcare("order", "--today", TODAY_TEXT, "--weeks", "2", "--out", out, "--json")
    told = json.loads(answer.out)
    assert sorted(told) == ["files", "orders"]
    assert len(list(out.iterdir())) == len(told["files"]) == 3 * len(told["orders"]) > 0
    assert everything_in(database) == before


def test_a_branch_nobody_knows_is_told(database):
    answer = floorcare("order", "--branch", "NOPE", "--today", TODAY_TEXT)
    assert answer.code != 0
    assert 'There is no branch "NOPE"' in answer.err
