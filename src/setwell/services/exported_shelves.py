"""The pantry, the shipped tables and the sources, as rows of plain cells."""

import math
from collections.abc import Iterator, Sequence

from setwell.domain.buying import Bought
from setwell.engine.material import NUTRIENT_KEYS, Material, MaterialKind
from setwell.provenance import Evidence, grade_worst
from setwell.services.agent_catalog import agents_chart
from setwell.services.materials import kitchen_catalog
from setwell.services.pantry_columns import COLUMNS, Kind, cells_write
from setwell.services.shelves import SHELVES
from setwell.store.entities import Entity
from setwell.store.price_paid_rows import prices_paid
from setwell.tables.sources import sources

Cell = str | float | int | None
Rows = Iterator[Sequence[Cell]]

_NUMBERS = frozenset({Kind.NUMBER, Kind.WHOLE})


def shelf_rows(entity: Entity) -> Rows:
    """Yield one shelf of the pantry; the same columns can be imported again."""
    columns = COLUMNS[entity]
    yield [column.name for column in columns]
    for document in SHELVES[entity].documents():
        cells = cells_write(entity, document)
        yield [
            float(cell) if column.kind in _NUMBERS and cell else cell
            for column, cell in zip(columns, cells, strict=True)
        ]


def price_history_rows() -> Rows:
    """Yield every price that was written down, the oldest first; an empty one was taken away."""
    yield [
        "recorded_at", "shelf", "name", "currency", "price_per_kg", "pack_g", "pack_price",
        "waste_pct", "supplier",
    ]  # fmt: skip
    for paid in prices_paid():
        bought = paid.document or Bought()
        yield [
            paid.recorded_at.isoformat(timespec="seconds"), paid.shelf, paid.name, paid.currency,
            bought.per_kg, bought.pack_g, bought.pack_price, bought.waste_pct, bought.supplier,
        ]  # fmt: skip


def food_table_rows() -> Rows:
    """Yield every food that a line can name, per 100 g; an empty cell was never analyzed."""
    yield [
        "key", "name", "group", *NUTRIENT_KEYS, "density_g_per_ml", "ph", "ph_low", "ph_high",
        "allergens", "vegan", "vegetarian", "grade", "sources",
    ]  # fmt: skip
    for material in kitchen_catalog().materials.values():
        if material.kind is MaterialKind.FOOD:
            yield _food(material)


def agent_rows_told() -> Rows:
    """Yield every statement about every texture agent, with its sources."""
    yield ["key", "agent", "property", "statement", "grade", "sources"]
    chart = agents_chart()
    for place, agent in enumerate(chart.columns):
        for row in chart.rows:
            cell = row.cells[place]
            if cell.text:
                told = [agent.key, agent.name, row.label, cell.text]
                yield [*told, _grade(cell.evidence), _sources(cell.evidence)]


def source_rows() -> Rows:
    """Yield the bibliography."""
    yield ["id", "authors", "year", "title", "published in", "doi", "note"]
    for one in sources().values():
        yield [one.id, one.authors, one.year, one.title, one.container, one.doi, one.note]


def _food(material: Material) -> list[Cell]:
    nutrients = [_known(float(value)) for value in material.nutrients]
    ph = material.ph
    return [
        material.key, material.name, material.group, *nutrients,
        material.density.value if material.density else None,
        ph.value if ph else None, ph.low if ph else None, ph.high if ph else None,
        "; ".join(one.allergen for one in material.allergens),
        material.vegan, material.vegetarian,
        _grade(material.evidence), _sources(material.evidence),
    ]  # fmt: skip


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value


def _grade(evidence: Evidence) -> str:
    return grade_worst(citation.grade for citation in evidence).value


def _sources(evidence: Evidence) -> str:
    return "; ".join(f"{one.source}: {one.locator}" for one in evidence)
