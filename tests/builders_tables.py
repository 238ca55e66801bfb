"""Tables on disk: read as plain rows, copied, and damaged to see whether that is noticed."""

import csv
import shutil
import tomllib
from pathlib import Path

TABLES = Path(__file__).parents[1] / "src" / "setwell" / "tables"


def lines(path: Path) -> list[dict[str, str]]:
    """Return the rows of a table as text."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def sidecar(path: Path) -> dict:
    """Return what stands beside a table."""
    return tomllib.loads(path.with_suffix(".toml").read_text(encoding="utf-8"))


def tables_copied(room: str, target: Path) -> Path:
    """Copy the tables of one room, and return where they are now."""
    for path in (TABLES / room).glob("*.csv"):
        shutil.copy(path, target)
    return target


def damage(path: Path, old: str, new: str) -> None:
    """Change the first place of a table that reads so."""
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
