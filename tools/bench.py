"""Measure speed as ratios within one run, so that any machine can judge them."""

import statistics
import sys
import time
from collections.abc import Callable

import numpy as np
from bench_acid import acid_rows
from bench_heat import heat_rows
from bench_label import label_rows
from bench_probe import probe_rows
from bench_proposals import proposal_rows, substitute_rows
from bench_robustness import robustness_rows
from bench_texture import texture_rows

from setwell import assess, assess_many, catalog_build, formula_make
from setwell.domain.phases import lines_parse
from setwell.tables.foods.aliases import food_aliases_read
from setwell.tables.foods.load import food_rows_read
from setwell.tables.foods.sheet import FOLDER

FORMULA = formula_make(
    title="Twelve lines",
    ingredients="""
700 g whole milk
150 g heavy cream
60 g sugar (with the agents, to disperse)
3 large egg yolks
20 g honey
1 tsp vanilla extract
30 g milk powder
2 g cinnamon
10 g lemon juice
salt to 0.2%
0.35% kappa carrageenan
0.15% iota carrageenan
""",
    steps="""Whisk the powders with the sugar into the cold milk
Heat to 88 °C, hold 2 min, stirring constantly
Cool to 60 °C
Add the lemon juice
Pour into molds
Chill at 4 °C for 4 h""",
)
LINES = "\n".join(
    f"{number % 900 + 1} g {name}"
    for number, name in zip(
        range(1000), ["whole milk", "sugar", "lemon juice", "kappa carrageenan"] * 250, strict=True
    )
)
# (n, limit in ms) are the goals; the ratio is what counts across machines.
CANDIDATES = 10_000
BATCH_LEAST_RATIO = 200.0
SINGLE_MOST_MS = 5.0
PARSE_MOST_S = 0.5
TABLES_MOST_S = 0.3


def seconds(work: Callable[[], object], *, repeats: int) -> float:
    """Return the median time of one call after a warm-up."""
    work()
    taken = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def main() -> int:
    """Print the figures; exit 1 when a goal is missed."""
    catalog = catalog_build()
    single = seconds(lambda: assess(FORMULA, catalog=catalog), repeats=50)
    rng = np.random.default_rng(7)
    base = np.array([[line.grams for line in assess(FORMULA, catalog=catalog).lines]], dtype=float)
    many = base * rng.uniform(0.5, 1.5, (CANDIDATES, base.shape[1]))
    one = many[:1]
    per_call = seconds(lambda: assess_many(FORMULA, one, catalog=catalog), repeats=50)
    per_batch = seconds(lambda: assess_many(FORMULA, many, catalog=catalog), repeats=5)
    parse = _parse()
    tables = seconds(load_tables, repeats=3)
    ratio = per_call / (per_batch / CANDIDATES)
    rows = [
        ("one assessment, 12 lines", f"{1000 * single:.2f} ms", single * 1000 < SINGLE_MOST_MS),
        ("10,000 candidates in one batch", f"{1000 * per_batch:.0f} ms", True),
        ("batch against single calls, per candidate", f"{ratio:.0f} x", ratio >= BATCH_LEAST_RATIO),
        ("loading all food tables", f"{1000 * tables:.0f} ms", tables < TABLES_MOST_S),
        ("reading 1,000 lines", f"{1000 * parse:.0f} ms", parse < PARSE_MOST_S),
        *texture_rows(FORMULA),
        *acid_rows(),
        *heat_rows(),
        *probe_rows(),
        *robustness_rows(FORMULA),
        *proposal_rows(),
        *substitute_rows(FORMULA),
        *label_rows(FORMULA),
    ]
    for name, figure, is_met in rows:
        sys.stdout.write(f"{'ok  ' if is_met else 'SLOW'} {name:<72} {figure}\n")
    return 0 if all(is_met for *_, is_met in rows) else 1


def load_tables() -> None:
    """Read the food tables from their files, as the first assessment after a start does."""
    food_rows_read(FOLDER)
    food_aliases_read(FOLDER)


def _parse() -> float:
    """Read 1,000 lines as two formulas of 500, the most one formula may have."""
    lines = LINES.splitlines()
    halves = ["\n".join(lines[:500]), "\n".join(lines[500:])]
    return seconds(lambda: [lines_parse(half) for half in halves], repeats=3)


if __name__ == "__main__":
    sys.exit(main())
