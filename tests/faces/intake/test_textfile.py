import os
from pathlib import Path

import pytest

from floorcare.faces.intake import textfile
from floorcare.faces.intake.notes import Notes
from floorcare.faces.intake.textfile import text_of

TEXT = "site,name\nCAFÉ,Größe – Œuvre\n"


def read(tmp_path: Path, raw: bytes):
    path = tmp_path / "sites.csv"
    path.write_bytes(raw)
    notes = Notes()
    return text_of(path, "sites.csv", notes), notes.findings()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_unicode_encodings_are_read_without_a_question(tmp_path, encoding):
    text, findings = read(tmp_path, TEXT.encode(encoding))
    assert (text, findings) == (TEXT, ())


def test_big_endian_utf16_with_its_mark_is_read(tmp_path):
    text, findings = read(tmp_path, b"\xfe\xff" + TEXT.encode("utf-16-be"))
    assert (text, findings) == (TEXT, ())


def test_windows_1252_is_read_and_asked_about_with_the_line(tmp_path):
    text, (finding,) = read(tmp_path, TEXT.encode("cp1252"))
    assert text == TEXT
    assert (finding.weight, finding.row) == ("asks", 2)
    assert "Windows-1252" in finding.problem
    assert finding.value == "CAFÉ,Größe – Œuvre"


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"site,name\nA\x00B,C\n", "NUL bytes"),
        ("site\nA\n".encode("utf-16-le"), "NUL bytes"),
        (b"\xff\xfe\x00\x00" + "site\n".encode("utf-32-le"), "UTF-32"),
        (b"\xff\xfeA\x00B", "breaks off"),
        (b"\xff\xfeA\x00\x00\x00", "NUL characters"),
        (b"PK\x03\x04 and more", "workbook or archive"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "old workbook"),
        (b"%PDF-1.7", "PDF"),
        (b"\x89PNG\r\n\x1a\n\x81", "neither UTF-8 nor Windows-1252"),
        (b"site\n\x81\x8d\n", "neither UTF-8 nor Windows-1252"),
    ],
)
def test_what_is_no_text_is_refused_with_its_mend(tmp_path, raw, says):
    text, (finding,) = read(tmp_path, raw)
    assert text is None
    assert says in finding.problem
    assert finding.weight == "stops"
    assert finding.mend


def test_a_file_that_is_too_large_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(textfile, "LARGEST_BYTES", 10)
    text, (finding,) = read(tmp_path, b"x" * 11)
    assert text is None
    assert finding.problem == "the file is too large"


@pytest.mark.skipif(os.name != "posix", reason="a link to itself needs POSIX")
def test_a_file_that_cannot_be_opened_is_a_finding(tmp_path):
    path = tmp_path / "sites.csv"
    path.symlink_to(path)
    notes = Notes()
    assert text_of(path, "sites.csv", notes) is None
    assert notes.findings()[0].problem == "the file cannot be opened"


def test_letters_typed_in_two_parts_are_joined(tmp_path):
    text, _ = read(tmp_path, "Cafe\u0301".encode())
    assert text == "Café"
