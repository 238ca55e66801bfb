"""What the FILE argument of a command stands for: a file, standard input, or a saved formula."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import difflib
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from setwell.errors import DocumentError, InputError, NotFoundError
from setwell.units import text_quote

if TYPE_CHECKING:
    from setwell.domain.formula import Formula

# A formula has at most 0.4 MB; a saved web page around a recipe may be several times that.
SIZE_LIMIT = 5_000_000
STANDARD_INPUT = "-"
_HASH_DIGITS = 64


@dataclass(frozen=True, slots=True)
class FormulaSource:
    """A formula and how its version is called; one from a file has no number and no id."""

    formula: "Formula"
    version_label: str
    number: int | None = None
    formula_id: int | None = None


def formula_source(name: str) -> FormulaSource:
    """Return the formula that a FILE argument means."""
    from setwell.services.exchange import formula_import

    if not name.strip():
        raise InputError("No file and no saved formula was named.")
    if name == STANDARD_INPUT or _is_path(name):
        text = file_text(name)
        if not text.strip():
            raise DocumentError(f"{_spoken(name)} is empty; a formula needs at least one line.")
        return FormulaSource(formula_import(text=text, filename=_file_name(name)), "not saved")
    return saved_source(name)


def saved_source(name: str, *, number: int | None = None) -> FormulaSource:
    """Return a saved formula by its id, its title or the hash of a version."""
    from setwell.services.formulas import version_find, version_get

    wanted = name.strip()
    if _is_hash(wanted) and number is None:
        detail = version_find(content_hash=wanted)
    else:
        detail = version_get(formula_id=formula_id(wanted), number=number)
    found = detail.summary
    return FormulaSource(detail.formula, f"version {found.number}", found.number, found.formula_id)


def formula_id(name: str) -> int:
    """Return the id that an id or a title stands for."""
    from setwell.services.formulas import formula_get, formula_list

    if name.isascii() and name.isdigit() and len(name) < 10:
        return formula_get(formula_id=int(name)).id
    known = formula_list(search="")
    same = [item for item in known if item.title.casefold() == name.casefold()]
    if len(same) > 1:
        ids = ", ".join(str(item.id) for item in same)
        raise InputError(
            f"{len(same)} saved formulas are called {text_quote(name)}.",
            hint=f"Give one of the ids {ids}.",
        )
    if not same:
        raise _nothing_found(name, [item.title for item in known])
    return same[0].id


def file_text(name: str) -> str:
    """Return the text of a file or of standard input, or say why it cannot be one."""
    data = file_bytes(name)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _decoded(data, "utf-16", name)
    if b"\x00" in data or data.startswith((b"%PDF", b"PK\x03\x04")):
        raise DocumentError(
            f"{_spoken(name)} is not a text file.",
            hint="Give a formula in JSON, a schema.org Recipe, a saved web page or plain text.",
        )
    return _decoded(data, "utf-8-sig", name)


def file_bytes(name: str) -> bytes:
    """Return the content of a file or of standard input, within the size limit."""
    try:
        if name == STANDARD_INPUT:
            data = sys.stdin.buffer.read(SIZE_LIMIT + 1)
        else:
            data = _file_read(Path(name))
    except OSError as error:
        raise InputError(f"{_spoken(name)} cannot be read: {error.strerror}.") from None
    if len(data) > SIZE_LIMIT:
        raise DocumentError(
            f"{_spoken(name)} is larger than {SIZE_LIMIT // 1_000_000} MB; is it the right file?"
        )
    return data


def _file_read(path: Path) -> bytes:
    if not path.exists():
        raise InputError(f"There is no file {path}.")
    if path.is_dir():
        raise InputError(f"{path} is a folder.", hint="Name one file in it.")
    with path.open("rb") as file:
        return file.read(SIZE_LIMIT + 1)


def _decoded(data: bytes, encoding: str, name: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError:
        raise DocumentError(
            f"{_spoken(name)} is not UTF-8 text.", hint="Save it again with the encoding UTF-8."
        ) from None


def _is_path(name: str) -> bool:
    try:
        return Path(name).exists()
    except (OSError, ValueError):
        # Longer than a file name can be, or with a NUL: only a title can look like that.
        return False


def _is_hash(name: str) -> bool:
    return len(name) == _HASH_DIGITS and all(digit in "0123456789abcdef" for digit in name.lower())


def _nothing_found(name: str, titles: list[str]) -> NotFoundError:
    near = difflib.get_close_matches(name, titles, n=3)
    hint = f"Did you mean {' or '.join(map(text_quote, near))}?" if near else ""
    return NotFoundError(
        f"There is no file and no saved formula {text_quote(name)}.",
        hint=hint or "`setwell formulas` lists what is saved.",
    )


def _file_name(name: str) -> str:
    return "" if name == STANDARD_INPUT else Path(name).name


def _spoken(name: str) -> str:
    return "Standard input" if name == STANDARD_INPUT else name
