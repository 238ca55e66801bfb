"""Writing results to files."""

from pathlib import Path

import pytest

from setwell.cli.target import bytes_write, text_write
from setwell.errors import InputError


def test_text_without_a_file_is_printed_with_one_line_end(capsys):
    text_write("a\n", output=None, overwrite=False)
    text_write("b", output=None, overwrite=False)
    assert capsys.readouterr().out == "a\nb\n"


def test_writing_is_reported_on_standard_error(tmp_path, capsys):
    path = tmp_path / "a.json"
    text_write("é", output=path, overwrite=False)
    assert path.read_bytes() == "é\n".encode()
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", f"Wrote {path} (3 bytes).\n")


def test_an_existing_file_is_kept_unless_forced(tmp_path):
    path = tmp_path / "a.pdf"
    path.write_bytes(b"old")
    with pytest.raises(InputError, match=r"exists already\. Add --force to write over it\."):
        bytes_write(b"new", output=path, overwrite=False)
    assert path.read_bytes() == b"old"
    bytes_write(b"new", output=path, overwrite=True)
    assert path.read_bytes() == b"new"


def test_a_folder_that_is_missing_is_a_sentence(tmp_path):
    with pytest.raises(InputError, match=r"cannot be written: No such file or directory\."):
        bytes_write(b"", output=tmp_path / "no" / "a.pdf", overwrite=False)


def test_a_folder_is_not_a_file(tmp_path):
    with pytest.raises(InputError, match=r"is a folder\. Give the name of a file in it\."):
        bytes_write(b"", output=Path(tmp_path), overwrite=True)
