from floorcare.faces.documents.material_order_html import write_material_order_html
from tests.golden.loads import ORDERED


def test_the_page_is_whole_escaped_and_without_scripts():
    page = write_material_order_html(ORDERED).decode()
    for text in ("protector &lt;thin&gt;", "overdue: order today", "219.00 EUR", "white pad"):
        assert text in page
    assert "<script" not in page
