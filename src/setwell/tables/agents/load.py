"""Load the tables of texture agents once and join them by key."""

from collections import defaultdict
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.agents.rows import AgentRow, Alias, GelatinGrade, PropertyRow, TextRow
from setwell.tables.reading import Line, once, table_lines

FOLDER = Path(__file__).parent

NUMERIC_TABLES = (
    "hydration",
    "hydration_rate",
    "setting",
    "melting",
    "hysteresis",
    "ph_window",
    "dose",
    "counter_ion",
    "strength",
    "fracture",
    "agar_gellan_gelatin",
    "flow",
    "degradation",
    "carrageenan",
    "alginate",
    "pectin",
    "cellulose_ether",
    "starch",
)

_NUMERIC = (
    "agent", "property", "value", "low", "high", "unit", "conditions",
    "grade", "source", "locator", "note",
)  # fmt: skip
_TEXT = ("agent", "property", "text", "grade", "source", "locator", "note")
_IDENTITY = (
    "agent", "name", "short_name", "origin", "class", "charge", "ins", "e_number", "us_cfr",
    "vegan", "vegetarian", "allergen", "diet_note", "is_blend", "parts",
    "grade", "source", "locator",
)  # fmt: skip
_DIET = frozenset({"yes", "no", "check"})
_ALLERGENS = frozenset({"", "fish", "fish_check", "wheat", "check"})
_KINDS = frozenset(
    {
        "cold-set gel",
        "heat-set gel",
        "ion-set gel",
        "sugar-acid gel",
        "thickener",
        "thickener and gel",
        "emulsifier",
        "blend",
    }
)

Figures = dict[str, dict[str, tuple[PropertyRow, ...]]]
Texts = dict[str, dict[str, TextRow]]


@cache
def agent_rows(folder: Path = FOLDER) -> Mapping[str, AgentRow]:
    """Return every texture agent by key."""
    figures = _figures(folder, NUMERIC_TABLES)
    powders = _figures(folder, ("composition",))
    texts, laws = _texts(folder / "description.csv"), _texts(folder / "regulation.csv")
    rows: dict[str, AgentRow] = {}
    for line in table_lines(folder / "identity.csv", _IDENTITY):
        key = line.required("agent")
        rows[once(line, key, rows)] = _agent(line, figures, powders, texts, laws)
    _check_known(rows, figures, powders, texts, laws)
    _check_parts(rows)
    return MappingProxyType(rows)


@cache
def agent_aliases(folder: Path = FOLDER) -> Mapping[str, Alias]:
    """Return the agent behind each written name, which is in lower case."""
    agents = agent_rows(folder)
    columns = ("alias", "agent", "assumption", "grade", "source", "locator")
    names: dict[str, Alias] = {}
    for line in table_lines(folder / "aliases.csv", columns):
        key, name = line.required("agent"), line.required("alias")
        if key not in agents:
            raise TableError(f"{line.place}: no agent is called {key}.")
        if name in names or name != name.lower():
            raise TableError(f"{line.place}: “{name}” stands there twice or is not lower case.")
        names[name] = Alias(key, line.text("assumption"), line.citation())
    return MappingProxyType(names)


@cache
def gelatin_grades(folder: Path = FOLDER) -> Mapping[str, GelatinGrade]:
    """Return the gelatin sheet grades by name."""
    columns = (
        "grade_name", "bloom", "bloom_low", "bloom_high", "sheet_mass_g",
        "grade", "source", "locator", "note",
    )  # fmt: skip
    grades = {}
    for line in table_lines(folder / "grades.csv", columns):
        name = line.required("grade_name")
        low, bloom, high = (line.number(c) for c in ("bloom_low", "bloom", "bloom_high"))
        if not low <= bloom <= high:
            raise TableError(f"{line.place}: the Bloom strength lies outside its range.")
        mass, note = line.number("sheet_mass_g"), line.text("note")
        grades[name] = GelatinGrade(name, bloom, low, high, mass, line.citation(), note)
    return MappingProxyType(grades)


def _agent(line: Line, figures: Figures, powders: Figures, texts: Texts, laws: Texts) -> AgentRow:
    key = line.required("agent")
    return AgentRow(
        key=key,
        name=line.required("name"),
        short_name=line.required("short_name"),
        origin=line.required("origin"),
        kind=line.choice("class", _KINDS),
        charge=line.required("charge"),
        ins=line.text("ins"),
        e_number=line.text("e_number"),
        us_cfr=line.required("us_cfr"),
        vegan=line.choice("vegan", _DIET),
        vegetarian=line.choice("vegetarian", _DIET),
        allergen=line.choice("allergen", _ALLERGENS),
        diet_note=line.text("diet_note"),
        parts=MappingProxyType(_parts(line)),
        citation=line.citation(),
        properties=MappingProxyType(figures.get(key, {})),
        texts=MappingProxyType(texts.get(key, {})),
        regulation=MappingProxyType(laws.get(key, {})),
        composition=MappingProxyType({p: r[0] for p, r in powders.get(key, {}).items()}),
    )


def _parts(line: Line) -> dict[str, float]:
    shares = {}
    for part in line.text("parts").split():
        name, _, share = part.partition("=")
        try:
            shares[name] = float(share)
        except ValueError:
            raise TableError(f"{line.place}: “{part}” is not a part=share.") from None
    if line.is_yes("is_blend") != bool(shares) or (shares and abs(sum(shares.values()) - 1) > 1e-9):
        raise TableError(f"{line.place}: the parts of the blend do not add up to one.")
    return shares


def _figures(folder: Path, tables: tuple[str, ...]) -> Figures:
    found: dict[str, dict[str, list[PropertyRow]]] = defaultdict(lambda: defaultdict(list))
    seen = set()
    for table in tables:
        for line in table_lines(folder / f"{table}.csv", _NUMERIC):
            row = _property(line)
            key = line.required("agent")
            if (key, row.property, row.conditions) in seen:
                raise TableError(f"{line.place}: {key} {row.property} stands there twice.")
            seen.add((key, row.property, row.conditions))
            found[key][row.property].append(row)
    return {key: {p: tuple(r) for p, r in props.items()} for key, props in found.items()}


def _property(line: Line) -> PropertyRow:
    value, low, high = line.number("value"), line.number_or_none("low"), line.number_or_none("high")
    if (low is not None and low > value) or (high is not None and value > high):
        raise TableError(f"{line.place}: the value lies outside its range.")
    return PropertyRow(
        property=line.required("property"),
        value=value,
        low=low,
        high=high,
        unit=line.required("unit"),
        conditions=line.text("conditions"),
        citation=line.citation(),
        note=line.text("note"),
    )


def _texts(path: Path) -> Texts:
    found: Texts = defaultdict(dict)
    for line in table_lines(path, _TEXT):
        key, name = line.required("agent"), line.required("property")
        if name in found[key]:
            raise TableError(f"{line.place}: {key} {name} stands there twice.")
        found[key][name] = TextRow(name, line.required("text"), line.citation(), line.text("note"))
    return found


def _check_known(rows: Mapping[str, AgentRow], *tables: Mapping[str, object]) -> None:
    strangers = {key for table in tables for key in table} - set(rows)
    if strangers:
        raise TableError(f"No agent is called {sorted(strangers)[0]}.")


def _check_parts(rows: Mapping[str, AgentRow]) -> None:
    for row in rows.values():
        strangers = set(row.parts) - set(rows)
        if strangers:
            raise TableError(f"{row.key}: no agent is called {sorted(strangers)[0]}.")
