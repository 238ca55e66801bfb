"""What the FILE argument stands for."""

import io
import sys

import pytest

from setwell.cli.source import SIZE_LIMIT, file_bytes, file_text
from setwell.errors import DocumentError, InputError


class Input:
    """Stands in for standard input."""

    def __init__(self, data: bytes) -> None:
        self.buffer = io.BytesIO(data)


def test_text_is_read_as_utf8_with_or_without_a_mark(tmp_path):
    path = tmp_path / "a.txt"
    path.write_bytes(b"\xef\xbb\xbf350 g cr\xc3\xa8me")
    assert file_text(str(path)) == "350 g crème"


def test_utf16_with_a_mark_is_read_too(tmp_path):
    path = tmp_path / "a.txt"
    path.write_bytes("350 g crème".encode("utf-16"))
    assert file_text(str(path)) == "350 g crème"


def test_a_dash_reads_standard_input(monkeypatch):
    monkeypatch.setattr(sys, "stdin", Input(b"1 g agar"))
    assert file_text("-") == "1 g agar"


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(InputError, match=r"There is no file .*gone\.txt\."):
        file_text(str(tmp_path / "gone.txt"))


def test_a_folder_is_called_a_folder(tmp_path):
    with pytest.raises(InputError, match=r"is a folder\. Name one file in it\."):
        file_text(str(tmp_path))


@pytest.mark.parametrize("data", [b"\x89PNG\r\n\x1a\n\x00\x00", b"%PDF-1.7 ...", b"PK\x03\x04abc"])
def test_a_file_that_is_no_text_is_refused(tmp_path, data):
    path = tmp_path / "a.bin"
    path.write_bytes(data)
    with pytest.raises(DocumentError, match=r"a\.bin is not a text file\. Give a formula"):
        file_text(str(path))


def test_another_encoding_is_refused_with_the_way_out(tmp_path):
    path = tmp_path / "a.txt"
    path.write_bytes("crème".encode("latin-1"))
    with pytest.raises(DocumentError, match=r"a\.txt is not UTF-8 text\. Save it again with the"):
        file_text(str(path))


def test_a_file_over_the_limit_is_refused_and_not_read_whole(tmp_path):
    path = tmp_path / "a.txt"
    with path.open("wb") as file:
        file.truncate(SIZE_LIMIT * 100)
    with pytest.raises(DocumentError, match=r"a\.txt is larger than 5 MB; is it the right file\?"):
        file_bytes(str(path))


def test_a_file_at_the_limit_is_read(tmp_path):
    path = tmp_path / "a.txt"
    path.write_bytes(b"x" * SIZE_LIMIT)
    assert len(file_bytes(str(path))) == SIZE_LIMIT
