"""The nutrients of the composition table and how far nature strays from them."""

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.foods.rows import Nutrient
from setwell.tables.foods.sheet import sheet_rows

# In the order in which a page shows them.
NUTRIENTS: tuple[Nutrient, ...] = tuple(
    Nutrient(row.required("key"), row.required("label"), row.required("unit"))
    for row in sheet_rows("nutrients")
)


@cache
def nutrient_spread(kind: str) -> Mapping[str, float]:
    """Return the relative spread of every nutrient for `natural` foods or `pure` chemicals."""
    written = {
        row.required("nutrient"): row.number("relative_spread")
        for row in sheet_rows("spread")
        if row.required("kind") == kind
    }
    if "default" not in written:
        raise TableError(f"spread.csv has no default line for the kind “{kind}”.")
    default = written["default"]
    return MappingProxyType({n.key: written.get(n.key, default) for n in NUTRIENTS})
