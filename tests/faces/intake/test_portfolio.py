from datetime import date


def order(rows, *fields):
    return [tuple(getattr(row, field) for field in fields) for row in rows]


def test_every_list_stands_in_the_order_of_its_codes_whatever_the_order_of_rows(full):
    for path in full.path.iterdir():
        heading, *rows = path.read_text(encoding="utf-8").splitlines()
        path.write_text("\n".join((heading, *reversed(rows))) + "\n", encoding="utf-8")
    turned = full.right()
    assert order(turned.workers, "code") == [("W-1",), ("W-2",), ("W-3",)]
    assert order(turned.crews, "code") == [("N-1",), ("N-2",)]
    assert order(turned.crews[0].members, "worker") == [("W-1",), ("W-2",)]
    assert order(turned.instruments, "code") == [("M-7",), ("M-8",)]
    assert [book.zone.code for book in turned.books[0].zones] == ["EDGE", "LANE"]


def test_stock_stands_by_branch_material_and_day_and_calls_by_their_time(full):
    full.add(
        "stock.csv", "NORTH,protector,2026-10-02,counted,3", "NORTH,densifier,2026-11-05,received,1"
    )
    full.add(
        "calls.csv",
        "11111111-7a51-4c53-9a0e-2f3b6f0c9d11,MARKET,EDGE,spill,2026-09-13 08:20,Jo,Milk",
        "00000000-7a51-4c53-9a0e-2f3b6f0c9d11,MARKET,EDGE,spill,2026-09-14 08:20,Jo,Milk",
    )
    portfolio = full.right()
    assert order(portfolio.stock, "material", "on") == [
        ("densifier", date(2026, 11, 5)),
        ("protector", date(2026, 10, 2)),
        ("protector", date(2026, 11, 2)),
    ]
    assert [call.uuid[0] for call in portfolio.calls] == ["1", "0", "6"]


def test_a_folder_with_something_that_stops_holds_nothing(full):
    full.change("fees.csv", "1450", "many")
    portfolio = full.read().portfolio
    assert (portfolio.contracts, portfolio.workers, portfolio.withdrawn) == ((), (), ())
