"""Short ways to write wishes and candidates for tests."""

from functools import cache

import numpy as np

from setwell.domain.brief import Brief, brief_make
from setwell.domain.pantry import Pantry
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import BriefBase, base_read
from setwell.engine.proposals.conflicts import MetMasks
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.wishes import Wish, wishes_of
from setwell.engine.texture_results import Texture

CODES = frozenset({"sets", "frozen"})
# A clear, elastic gel that stands at 55 °C, without a price.
USUAL = {"sets": 1, "modulus": 2.0, "stress": 5.0, "strain": 1.0, "thickness": np.nan,
         "set_c": 40.0, "melt_c": 60.0, "haze": 0.1, "weeps": 0.0, "frozen": 1,
         "cost": np.nan, "afloat": 0.0}  # fmt: skip
LIQUID = {"sets": -1, "modulus": 0.0, "stress": 0.0, "strain": np.nan, "set_c": np.nan,
          "melt_c": np.nan, "thickness": 300.0}  # fmt: skip


def brief_of(**fields: object) -> Brief:
    return brief_make(title="Cup", base="900 g water\n100 g sugar", **fields)


def base_of(brief: Brief, pantry: Pantry | None = None) -> BriefBase:
    return base_read(brief, catalog=catalog_build(pantry) if pantry else _tables_only())


def wishes_from(*, like: Texture | None = None, **fields: object) -> dict[str, Wish]:
    """Return the wishes of a brief with these fields, by key."""
    brief = brief_of(**fields)
    return {wish.key: wish for wish in wishes_of(brief, base_of(brief), like=like)}


def rows_of(*rows: dict[str, float]) -> Predicted:
    """Return candidates that are as usual but for some quantities."""
    # One gel alone stands up to where it melts.
    whole = [{"stands_c": row.get("melt_c", USUAL["melt_c"])} | USUAL | row for row in rows]
    return Predicted._make(
        np.array([row[name] for row in whole], dtype=np.int8 if name in CODES else np.float64)
        for name in Predicted._fields
    )


def met_of(**rows: dict[str, float]) -> MetMasks:
    """Return judged candidates by name."""
    return MetMasks(rows_of(*rows.values()), tuple((name,) for name in rows))


@cache
def _tables_only():
    return catalog_build()
