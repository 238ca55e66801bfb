"""Measure what textures of many candidates, of typing and of a blend take, in one run."""

import os
import statistics
import time
from collections.abc import Callable
from itertools import count

import numpy as np

from setwell import assess, assess_many, catalog_build, formula_make
from setwell.domain.formula import Formula
from setwell.engine.catalog import Catalog

Row = tuple[str, str, bool]
CANDIDATES = 10_000
# So many single calls the textures of all candidates may take.
MOST_CALLS = 100.0
BLEND_MOST_MS = 150.0
TYPED_MOST_MS = 5.0

MILK = formula_make(
    title="Three agents",
    ingredients="""
700 g whole milk
150 g heavy cream
60 g sugar (with the agents, to disperse)
10 g lemon juice
salt to 0.2%
0.35% kappa carrageenan
0.15% iota carrageenan
0.2% locust bean gum
""",
    steps="""Whisk the powders with the sugar into the cold milk
Heat to 88 °C, hold 2 min, stirring constantly
Cool to 60 °C
Add the lemon juice
Pour into molds
Chill at 4 °C for 4 h""",
)


def by_turns(works: list[Callable[[], object]], *, rounds: int) -> list[float]:
    """Return the median time of each; by turns, so that other load burdens all of them alike."""
    taken: list[list[float]] = [[] for _ in works]
    for turn in range(rounds + 1):
        for place, work in enumerate(works):
            start = time.perf_counter()
            work()
            if turn:
                taken[place].append(time.perf_counter() - start)
    return [statistics.median(times) for times in taken]


def candidates(formula: Formula, catalog: Catalog) -> np.ndarray:
    """Return weights of many variants of a formula, each agent between half and half as much."""
    base = np.array([[line.grams for line in assess(formula, catalog=catalog).lines]], dtype=float)
    return base * np.random.default_rng(11).uniform(0.5, 1.5, (CANDIDATES, base.shape[1]))


def batch_rows(catalog: Catalog) -> list[Row]:
    """Return what textures with ranges of all candidates take against one call."""
    many = candidates(MILK, catalog)
    bench = assess_many(MILK, many, catalog=catalog)
    gel = bench.state.texture.gel
    if len(bench.agents) != 3 or gel is None or len(gel.modulus.low) != CANDIDATES:
        message = "The textures to measure are not those of three agents with ranges."
        raise RuntimeError(message)
    whole, row, single = by_turns(
        [
            lambda: assess_many(MILK, many, catalog=catalog),
            lambda: assess_many(MILK, many[:1], catalog=catalog),
            lambda: assess(MILK, catalog=catalog),
        ],
        rounds=9,
    )
    return [
        ("textures of 10,000 candidates, 3 agents", f"{1000 * whole:.0f} ms", True),
        ("  against a batch of one", f"{whole / row:.0f} x", whole < MOST_CALLS * row),
        ("  against one assessment", f"{whole / single:.0f} x", whole < MOST_CALLS * single),
    ]


def typing_row(formula: Formula, catalog: Catalog) -> Row:
    """Return what an assessment takes as a cook types: one weight nobody has typed before."""
    weights = count(1)

    def typed() -> object:
        text = formula.ingredients.replace("60 g sugar", f"{60 + next(weights) / 1000:.3f} g sugar")
        changed = formula_make(title=formula.title, ingredients=text, steps=formula.steps)
        return assess(changed, catalog=catalog)

    [taken] = by_turns([typed], rounds=100)
    figure = 1000 * taken
    return "one assessment, 12 lines, a weight changed", f"{figure:.2f} ms", figure < TYPED_MOST_MS


def blend_row() -> Row:
    """Return how soon a blend of three agents is answered, in a kitchen of its own."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "setwell.web.settings_test")
    import django  # noqa: PLC0415 - only after the settings are named

    django.setup()
    from django.core.management import call_command  # noqa: PLC0415 - only once Django is up

    from setwell.services.blend_explorer import BlendAsk, blend_explore  # noqa: PLC0415 - as above

    call_command("migrate", verbosity=0, interactive=False)
    doses = count(1)

    def asked() -> object:
        dose = 0.8 + next(doses) / 1000
        return blend_explore(
            ask=BlendAsk(("kappa", "iota", "konjac"), (50.0, 30.0, 20.0), dose, "whole milk")
        )

    [taken] = by_turns([asked], rounds=15)
    return "trying a blend of three agents", f"{1000 * taken:.0f} ms", 1000 * taken < BLEND_MOST_MS


def texture_rows(formula: Formula) -> list[Row]:
    """Return name, figure and whether the goal is met for each measurement."""
    catalog = catalog_build()
    return [typing_row(formula, catalog), *batch_rows(catalog), blend_row()]
