"""The words a kitchen writes, and the food each of them stands for."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.foods.rows import Alias
from setwell.tables.foods.sheet import FOLDER, sheet_rows


@cache
def food_aliases() -> Mapping[str, Alias]:
    """Return what every known word stands for; words are lower case and singular."""
    return food_aliases_read(FOLDER)


def food_aliases_read(folder: Path) -> Mapping[str, Alias]:
    """Return the aliases of one folder of tables."""
    found: dict[str, Alias] = {}
    for row in sheet_rows("aliases", folder):
        word = row.required("alias")
        if word in found:
            raise TableError(f"{row.place}: “{word}” stands for two foods.")
        if word != word.lower().strip():
            raise TableError(f"{row.place}: “{word}” must be written in lower case.")
        found[word] = Alias(row.required("key"), row.text("assumption"))
    return MappingProxyType(found)
