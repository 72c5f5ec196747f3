from floorcare.faces.documents.load_out_html import write_load_out_html
from tests.golden.loads import LOADED


def test_the_page_is_whole_escaped_and_without_scripts():
    page = write_load_out_html(LOADED).decode()
    assert "Market &lt;Hall&gt; East" in page
    assert "800-grit resin: 3 pieces" in page
    assert "The whole week together" in page
    assert "<script" not in page
