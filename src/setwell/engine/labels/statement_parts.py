"""The ingredients of a batch by weight, with formulas used as ingredients kept whole."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.material import Material
from setwell.engine.plan import Plan
from setwell.engine.rules.bench import Bench
from setwell.tables.agents import agent_rows

WATER = frozenset({"water_pure", "water_tap"})


@dataclass(frozen=True, slots=True)
class Part:
    """One ingredient as added, before it gets a label name; grams are in the whole batch.

    A ready blend of agents is taken apart: `agent` is then the key of one of its powders. A
    formula has `material` None, its `title`, and its own ingredients in `parts`.
    """

    typed: str
    grams: float
    lines: tuple[int, ...]
    material: Material | None = None
    agent: str = ""
    sets: bool = False
    title: str = ""
    parts: tuple["Part", ...] = ()

    @property
    def key(self) -> str:
        """What this ingredient goes by among the choices of a label."""
        if self.material is None:
            return f"formula:{self.title}"
        is_own = self.material.key.startswith("own:")
        return f"agent:{self.agent}" if self.agent and not is_own else self.material.key

    @property
    def is_water(self) -> bool:
        """True for plain water."""
        return self.material is not None and self.material.table_key in WATER

    def leaves(self) -> Iterator["Part"]:
        """Yield the ingredients that are no formula."""
        if self.material is not None:
            yield self
        for part in self.parts:
            yield from part.leaves()


def parts_of(bench: Bench) -> tuple[Part, ...]:
    """Return the ingredients of the first candidate in the order of the lines."""
    setting = frozenset(
        key for key, state in bench.state.agents.items() if state.sets.size and state.sets[0] > 0
    )
    return tuple(_parts(bench.plan, bench.state.line_masses[0], setting))


def leaves_of(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """Return every ingredient that is no formula, those inside formulas too."""
    return tuple(leaf for part in parts for leaf in part.leaves())


def _parts(
    plan: Plan,
    masses: NDArray[np.float64],
    setting: frozenset[str],
    *,
    scale: float = 1.0,
    number: int = 0,
) -> Iterator[Part]:
    """Yield the parts of a plan; inside a formula every line has the number of its line."""
    for position, weighed in zip(plan.used, masses, strict=True):
        reading, grams = plan.readings[position], float(weighed) * scale
        if not grams > 0:
            continue
        lines = (number or reading.number,)
        if reading.material is not None:
            yield from _leaf(reading.material, reading.line.name, grams, lines, setting)
        elif position in plan.inner:
            inner = plan.inner[position]
            made = inner.line_masses()[0]
            finished = float(made.sum()) * (1.0 - inner.evaporation)
            inside = _parts(
                inner, made, setting, scale=grams / finished if finished > 0 else 0.0,
                number=lines[0],
            )  # fmt: skip
            yield Part(
                reading.line.name, grams, lines, title=inner.formula.title, parts=tuple(inside)
            )


def _leaf(
    material: Material, typed: str, grams: float, lines: tuple[int, ...], setting: frozenset[str]
) -> Iterator[Part]:
    agent = material.agent.key if material.agent is not None else ""
    if not agent:
        yield Part(typed, grams, lines, material)
        return
    shares = agent_rows()[agent].parts or {agent: 1.0}
    for key, share in shares.items():
        yield Part(typed, grams * share, lines, material, key, agent in setting)
