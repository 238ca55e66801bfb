"""Write the reference pages that are made from the code and the tables (`make docs`)."""

import csv
import importlib
import inspect
import json
import pkgutil
import re
import sys
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import setwell
from setwell import science
from setwell.domain.formula import formula_schema
from setwell.engine.material import NUTRIENT_KEYS
from setwell.provenance import Grade
from setwell.services.pantry_columns import COLUMNS, Column, Kind
from setwell.tables.foods import NUTRIENTS
from setwell.tables.sources import sources

ROOT = Path(__file__).parents[1]
PAGES = ROOT / "docs" / "reference"
TABLES = ROOT / "src" / "setwell" / "tables"
SYMBOLS_FILE = PAGES / "symbols.toml"
MADE = "This page is made by `make docs`; do not edit it by hand.\n"

_CELLS = {
    Kind.TEXT: "text",
    Kind.WORD: "yes, no or check",
    Kind.NUMBER: "number, without a unit",
    Kind.WHOLE: "whole number",
    Kind.DAY: "day, as 2027-03-31",
    Kind.YES_NO: "yes or no",
    Kind.LIST: "list, with ; between",
}
_UNIT = re.compile(r"\s*\[([^\]]+)\]\.?$")
_SECTION = re.compile(r"^(\w+)\n-+\n", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter as its docstring tells it."""

    name: str
    meaning: str
    unit: str


@dataclass(frozen=True, slots=True)
class Model:
    """One function of science/ taken apart."""

    name: str
    group: str
    sentence: str
    parameters: tuple[Parameter, ...]
    returns: tuple[Parameter, ...]
    notes: str
    references: tuple[tuple[str, str], ...]


def models() -> tuple[Model, ...]:
    """Return every public function of science/, by subject and name."""
    found: dict[str, Model] = {}
    for info in pkgutil.walk_packages(science.__path__, "setwell.science."):
        module = importlib.import_module(info.name)
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == info.name and not name.startswith("_"):
                found[f"{info.name}.{name}"] = _model(name, info.name, function)
    return tuple(found[key] for key in sorted(found))


def _model(name: str, module: str, function: Callable[..., Any]) -> Model:
    pieces = _SECTION.split(inspect.getdoc(function) or "")
    sections = dict(zip(pieces[1::2], pieces[2::2], strict=True))
    return Model(
        name,
        module.removeprefix("setwell."),
        _joined(pieces[0]),
        tuple(_parameters(sections.get("Parameters", ""))),
        tuple(_parameters(sections.get("Returns", ""))),
        _joined(sections.get("Notes", "")),
        tuple(_references(sections.get("References", ""))),
    )


def _parameters(section: str) -> Iterator[Parameter]:
    for head, body in _entries(section):
        text = _joined(body)
        unit = _UNIT.search(text)
        meaning = _UNIT.sub("", text).rstrip(".")
        yield Parameter(head.partition(" :")[0], meaning, unit[1] if unit else "")


def _references(section: str) -> Iterator[tuple[str, str]]:
    for head, body in _entries(section):
        yield head, _joined(body)


def _entries(section: str) -> Iterator[tuple[str, str]]:
    """Split a docstring section into its heads and the indented text under each."""
    for block in re.split(r"\n(?=\S)", section.strip()):
        head, _, body = block.partition("\n")
        if head:
            yield head.strip(), body


def _joined(text: str) -> str:
    return " ".join(text.split())


def _table(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    cells = [[cell.replace("|", "\\|") for cell in row] for row in [head, *rows]]
    cells.insert(1, ["---"] * len(head))
    return "\n".join(f"| {' | '.join(row)} |" for row in cells) + "\n"


def models_page() -> str:
    """Return the page of equations, valid ranges and sources."""
    parts = ["# Models\n", MADE]
    parts.append(
        "Every equation in `setwell.science`: what it says, where it holds and whom it follows. "
        "Temperatures are in kelvin and doses are mass fractions inside these functions; pages "
        "and results use °C and percent. Figures that go in stand in the [tables](tables.md). "
        "The symbols are in the [nomenclature](nomenclature.md).\n"
    )
    group = ""
    for model in models():
        if model.group != group:
            group = model.group
            parts.append(f"## {group}\n")
        parts.append(f"### {model.name}\n\n{model.sentence}\n\n{model.notes}\n")
        rows = [(f"`{p.name}`", p.meaning, p.unit) for p in model.parameters]
        rows += [("gives", p.meaning, p.unit) for p in model.returns]
        parts.append(_table(("Name", "Meaning", "Unit"), rows))
        cited = [f"- [{key}](bibliography.md#{key}): {said}" for key, said in model.references]
        parts.append("\n".join(cited) + "\n")
    return "\n".join(parts)


def nomenclature_page() -> str:
    """Return every parameter name in science/ with symbol, meaning and unit."""
    symbols = tomllib.loads(SYMBOLS_FILE.read_text(encoding="utf-8"))
    used: dict[tuple[str, str, str], list[str]] = {}
    for model in models():
        for p in model.parameters:
            used.setdefault((p.name, p.meaning, p.unit), []).append(model.name)
    rows = [
        (f"`{name}`", symbols.get(name, ""), meaning, unit, ", ".join(f"`{one}`" for one in where))
        for (name, meaning, unit), where in sorted(used.items())
    ]
    lead = (
        "Names of parameters in `setwell.science`, with the symbol that the notes of the "
        "[models](models.md) use. Units are SI inside, whatever a page shows; Bloom stays in "
        "grams, as the test has it. A unit of `-` is a plain number.\n"
    )
    table = _table(("Name", "Symbol", "Meaning", "Unit", "Used in"), rows)
    return "\n".join(["# Nomenclature\n", MADE, lead, table])


def tables_page() -> str:
    """Return what every shipped table holds, from the sidecar beside it."""
    parts = ["# Tables\n", MADE]
    parts.append(
        "Every table is a CSV file with a TOML sidecar of the same name in `src/setwell/tables`. "
        "A row names its source, the place in it and a [grade](../explanation/grades.md).\n"
    )
    folder = ""
    for path in sorted(TABLES.glob("*/*.toml")):
        if path.parent.name != folder:
            folder = path.parent.name
            parts.append(f"## {folder}\n")
        parts.append(_table_part(path))
    return "\n".join(parts)


def _table_part(path: Path) -> str:
    side = tomllib.loads(path.read_text(encoding="utf-8"))
    with path.with_suffix(".csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    facts = [
        f"{side['purpose'].rstrip('.')}. {len(rows)} rows, "
        f"key: {', '.join(f'`{key}`' for key in side['key'])}.",
        f"Blanks: {side['missing_values']}",
    ]
    grades = Counter(row["grade"] for row in rows if row.get("grade"))
    if grades:
        order = [grade.value for grade in Grade if grade.value in grades]
        facts.append(f"Grades: {', '.join(f'{grades[one]} {one}' for one in order)}.")
    columns = [(f"`{key}`", *_column(about)) for key, about in side["columns"].items()]
    name = path.relative_to(TABLES).with_suffix(".csv").as_posix()
    head = f"### {side['title']}\n\nFile `{name}`. " + "  \n".join(facts) + "\n"
    return f"{head}\n{_table(('Column', 'Meaning', 'Unit'), columns)}"


def _column(about: str | dict[str, str]) -> tuple[str, str]:
    if isinstance(about, str):
        unit = _UNIT.search(about)
        return _UNIT.sub("", about), unit[1] if unit else ""
    return about["meaning"], about["unit"]


def bibliography_page() -> str:
    """Return every source that a table or a model may cite."""
    lead = (
        f"{len(sources())} sources. The word in front is the id that tables and models cite. "
        "The note says how a source was used; “recalled, not seen” means just that.\n"
    )
    parts = ["# Bibliography\n", MADE, lead]
    for key, source in sources().items():
        note = f" Note: {source.note.rstrip('.')}." if source.note else ""
        citation = source.citation.rstrip(".")
        parts.append(f'<a id="{key}"></a>\n**{key}**: {citation}.{note}\n')
    return "\n".join(parts)


def pantry_page() -> str:
    """Return the columns of the pantry's CSV files."""
    parts = ["# Pantry files (CSV)\n", MADE]
    parts.append(
        "One file for each shelf, with one header row and one row for each thing. The text is "
        "UTF-8. Columns are separated by commas or semicolons; with semicolons a number may have a "
        "decimal comma. Columns may come in any order, and those that are not needed may be left "
        "out. A file has at most 5 MB and 20,000 rows. A cell that a spreadsheet would run as a "
        "formula is exported with an apostrophe in front, which the import takes off again. A "
        "row whose name is on the shelf updates that thing: an empty cell clears the field, a "
        "column left out leaves it. If any row has a problem, nothing is changed.\n\n"
        "How to use them: [record a lot](../how-to/record-a-lot.md), "
        "[import and export](../how-to/import-and-export.md).\n"
    )
    for entity, columns in COLUMNS.items():
        plain = [column for column in columns if column.name not in NUTRIENT_KEYS]
        rows = [(f"`{column.name}`", _cell(column), "yes" if column.needed else "")
                for column in plain]  # fmt: skip
        parts.append(f"## {entity.value}\n\n{_table(('Column', 'Cell', 'Needed'), rows)}")
        if len(plain) < len(columns):
            nutrients = [(f"`{item.key}`", item.label, item.unit) for item in NUTRIENTS]
            head = "Nutrients per 100 g; an empty cell means not known, or as in `based_on`:\n"
            parts.append(f"{head}\n{_table(('Column', 'Nutrient', 'Unit'), nutrients)}")
    return "\n".join(parts)


def _cell(column: Column) -> str:
    text = _CELLS[column.kind]
    return f"{text}; “none” says none, empty says nothing" if column.says_none else text


def python_page() -> str:
    """Return the public Python names with the example that the tests run."""
    opening = inspect.getdoc(setwell) or ""
    parts = ["# Python\n", MADE]
    parts.append(
        "`import setwell` gives the names below; other modules may change without notice. Pass "
        "keyword arguments by name. The example is run by the tests.\n"
    )
    for block in opening.split("\n\n")[1:]:
        parts.append(f"```python\n{block}\n```\n" if block.startswith(">>>") else f"{block}\n")
    for name in setwell.__all__:
        thing = getattr(setwell, name)
        sentence = _joined((inspect.getdoc(thing) or "").split("\n\n")[0])
        parts.append(f"## {name}\n\n`{_call(name, thing)}`\n\n{sentence}\n")
    return "\n".join(parts)


def _call(name: str, thing: object) -> str:
    """Write a signature without annotations, which differ between versions of Python."""
    if not inspect.isfunction(thing):
        return name
    bare = inspect.signature(thing)
    plain = [
        one.replace(annotation=inspect.Parameter.empty, default=_default(one.default))
        for one in bare.parameters.values()
    ]
    shown = bare.replace(parameters=plain, return_annotation=inspect.Signature.empty)
    return f"{name}{shown}"


def _default(value: object) -> object:
    """Return a default as it prints; a function by its name, not by where it lies in memory."""
    if not inspect.isfunction(value):
        return value
    return type(value.__name__, (), {"__repr__": lambda _: value.__name__})()


def schema_text() -> str:
    """Return the JSON Schema of the formula document."""
    return json.dumps(formula_schema(), indent=2, ensure_ascii=False) + "\n"


MAKERS: Mapping[str, Callable[[], str]] = {
    "bibliography.md": bibliography_page,
    "formula.schema.json": schema_text,
    "models.md": models_page,
    "nomenclature.md": nomenclature_page,
    "pantry-csv.md": pantry_page,
    "python.md": python_page,
    "tables.md": tables_page,
}


def main() -> int:
    """Write every page; say which ones changed."""
    for name, make in MAKERS.items():
        path, text = PAGES / name, make()
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8")
            sys.stdout.write(f"wrote {path.relative_to(ROOT)}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
