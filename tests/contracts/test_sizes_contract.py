"""Files stay small enough to read, and nothing unfinished or private is left in them."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
# Put together here so that this file does not find itself.
MARKERS = re.compile(r"\b(?:" + "|".join(("TO" + "DO", "FIX" + "ME", "X" * 3)) + r")\b")
PRIVATE = ("/" + "work/", "shared/" + "reference", "/" + "shared/")
FOLDERS = ("src", "tests", "docs", "tools")


def tracked(*folders: str) -> list[Path]:
    """Return what git tracks, or every text file where there is no repository."""
    try:
        listed = subprocess.run(
            ["git", "ls-files", "-z", "--", *folders],
            capture_output=True, cwd=ROOT, check=True, text=True,
        ).stdout.split("\0")  # fmt: skip
    except (OSError, subprocess.CalledProcessError):
        listed = [
            str(path.relative_to(ROOT))
            for folder in folders
            for path in (ROOT / folder).rglob("*")
            if "__pycache__" not in path.parts
        ]
    return [ROOT / name for name in listed if name and (ROOT / name).is_file()]


def text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def lines_in(path: Path) -> int:
    return len(text_of(path).splitlines())


def test_files_are_found():
    assert len([path for path in tracked("src") if path.suffix == ".py"]) > 100


@pytest.mark.parametrize(
    ("folder", "ending", "most"),
    [("src", ".py", 450), ("tests", ".py", 450), ("src", ".html", 200)],
)
def test_no_file_is_too_long(folder, ending, most):
    long = {
        path.name: lines_in(path)
        for path in tracked(folder)
        if path.suffix == ending and lines_in(path) > most
    }
    assert long == {}


def test_nothing_unfinished_is_marked():
    found = [path.name for path in tracked(*FOLDERS) if MARKERS.search(text_of(path))]
    assert found == []


def test_no_private_path_is_mentioned():
    found = [
        path.name for path in tracked(*FOLDERS) if any(word in text_of(path) for word in PRIVATE)
    ]
    assert found == []


def test_test_files_have_names_of_their_own():
    names = [path.name for path in tracked("tests") if path.name.startswith("test_")]
    assert sorted(names) == sorted(set(names))
