"""Getting the powder in: heat, clumps, blooming."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from setwell.engine.assessment import Severity
from setwell.engine.dispersal import Way
from setwell.engine.gelling.state import CANNOT_TELL, NO
from setwell.engine.rules.bench import PRACTICE, Bench, Hit, Telling, always, said
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print

Array = NDArray[np.float64]

_BLOOMED = frozenset({"gelatin", "gelatin_fish_cold"})
_SLURRIED = "starch"


def too_cool(bench: Bench) -> Iterable[Hit]:
    """Say when an agent does not get hot enough, or when the steps leave it open."""
    for key, agent in bench.state.agents.items():
        if agent_rows()[key].is_cold_soluble:
            continue
        path = bench.state.process.agents[key]
        known = bool(np.isfinite(path.peak_c).all())
        name = bench.name(key)
        needed = temperature_print(needed_c(key))
        lines = bench.lines_of(key)
        if not known:
            yield Hit(
                "heat_unknown",
                Severity.WARN,
                agent.hydrates == CANNOT_TELL,
                said(
                    f"{name}: heat not written",
                    f"No step says how hot the batch gets; {name} needs {needed} throughout.",
                    f"Add a step such as “Heat to {needed}, hold 2 min, stirring”.",
                ),
                lines,
                (),
                agent.origins.hydration,
            )
            continue
        reached = float(path.peak_c[0])
        yield Hit(
            "too_cool",
            Severity.STOP,
            agent.hydrates == NO,
            _under_heated(name, reached, key, agent.hydrated.value),
            lines,
            (),
            agent.origins.hydration,
        )
        yield Hit(
            "heat_marginal", Severity.WARN, agent.hydrates == CANNOT_TELL,
            said(
                f"{name}: only just hot enough",
                f"The batch reaches {temperature_print(reached)}; an unstirred pot can be 14 °C "
                f"(25 °F) cooler at the top than at the bottom, and {name} wants {needed} "
                "everywhere.",
                f"Stir all the way until it is clear, or warm it to {needed} in the coldest spot."
                if key in _BLOOMED
                else f"Stir all the way, read several points, or go to {needed} or a boil.",
            ),
            lines, (), (*agent.origins.hydration, *PRACTICE),
        )  # fmt: skip


def needed_c(agent: str) -> float:
    """Return the temperature a cook should bring the whole batch to for an agent."""
    row = agent_rows()[agent]
    whole = row.properties.get("whole_batch_temperature")
    if whole:
        return whole[0].value
    figure = row.figure("hydration_temperature")
    return figure.value if figure.high is None or agent in _BLOOMED else figure.high


def _under_heated(name: str, reached: float, key: str, share: Array) -> Telling:
    def tell(row: int) -> tuple[str, str, str]:
        dissolved = 100.0 * float(share[row])
        needed = temperature_print(needed_c(key))
        return (
            f"{name}: not hot enough",
            f"The batch reaches {temperature_print(reached)}, so only about {dissolved:.0f} % of "
            f"the {name} dissolves. Expect a spread or a sauce instead of a slice.",
            f"Bring the whole batch to {needed}; a boil does no harm."
            if key not in _BLOOMED
            else f"Warm it to {needed} until it is clear.",
        )

    return tell


def clumps(bench: Bench) -> Iterable[Hit]:
    """Say when nothing keeps the powder from clumping."""
    for key, path in bench.state.process.agents.items():
        if key in _BLOOMED:
            continue
        name = bench.name(key)
        how = (
            "Stir it into two to four times its weight of cold liquid first"
            if key.startswith(_SLURRIED)
            else "Mix it with five times its weight of sugar or another dry powder, rain it into "
            "moving liquid, or use a blender"
        )
        yield Hit(
            "clumps", Severity.WARN, always(bench, path.way is Way.POURED),
            said(f"{name}: may clump",
                 f"Nothing says how the {name} is dispersed. Dry powder in liquid makes lumps "
                 "that never dissolve.", f"{how}, and write it as a step or beside the line."),
            bench.lines_of(key), (), PRACTICE,
        )  # fmt: skip


def blooming(bench: Bench) -> Iterable[Hit]:
    """Say when gelatin is not bloomed, is boiled, or something else is bloomed."""
    for key, path in bench.state.process.agents.items():
        name, lines = bench.name(key), bench.lines_of(key)
        if key in _BLOOMED:
            yield Hit(
                "not_bloomed", Severity.WARN, always(bench, not path.bloom_steps),
                said(f"{name}: not bloomed",
                     "No step soaks it in cold liquid first; dry gelatin in hot liquid clumps.",
                     "Add a step: bloom in five to six times its weight of cold water, 5 to "
                     "10 min for sheets, up to 30 min for powder."),
                lines, (), PRACTICE,
            )  # fmt: skip
            yield Hit(
                "boiled", Severity.WARN, always(bench, path.boil_steps),
                said(f"{name}: boiled",
                     "Heat above about 80 °C (176 °F) costs gelatin strength, more so with acid "
                     "and time.",
                     "Boil the base without it and melt the gelatin in below 60 °C (140 °F)."),
                lines, path.boil_steps, PRACTICE,
            )  # fmt: skip
        elif path.bloom_steps:
            yield Hit(
                "bloomed_wrongly", Severity.WARN, always(bench, path.bloom_steps),
                said(f"{name}: not an agent to bloom",
                     f"{name} is not soaked like gelatin; soaked powder clumps on heating.",
                     "Disperse it dry-mixed or with a blender, then heat the whole batch."),
                lines, tuple(step for step in path.bloom_steps if step), PRACTICE,
            )  # fmt: skip
