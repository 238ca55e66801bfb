"""The assessment of n candidate batches: one pass of array operations, no loop over them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.lines import Line
from setwell.domain.steps import Step, steps_parse
from setwell.engine.acid_materials import is_clearly_acid
from setwell.engine.acid_path import acid_path
from setwell.engine.dispersal import CARRYING
from setwell.engine.disturbances import Disturbances
from setwell.engine.gelling.doubt import UNCORRECTED, Corrections
from setwell.engine.gelling.models import agent_state
from setwell.engine.gelling.pair import Kitchen
from setwell.engine.gelling.state import AgentInput, AgentState, Paces
from setwell.engine.history import histories
from setwell.engine.material import Material, Span
from setwell.engine.plan import Leaf, Plan
from setwell.engine.pot_course import PotCourse
from setwell.engine.pot_zones import pot_lags
from setwell.engine.process import (
    Process,
    acid_in_phase,
    process_read,
)
from setwell.engine.rollup import Composition, composition_roll_up
from setwell.engine.row_products import row_products
from setwell.engine.spans import Spans
from setwell.engine.texture import TextureState, texture_state
from setwell.engine.water_phase import WaterPhase, free_salts, water_phase

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class BatchState:
    """Everything computed for n candidates; arrays have a leading axis of n."""

    line_masses: Array
    masses: Array
    composition: Composition
    water: WaterPhase
    # Free minerals of the food alone, in mmol per kg of water.
    salts: Mapping[str, Spans]
    process: Process
    doses_pct: Mapping[str, Array]
    agents: Mapping[str, AgentState]
    texture: TextureState
    # What the texture is judged at, in °C.
    serving_c: Array


@dataclass(frozen=True, slots=True)
class AgentColumns:
    """Where one agent's materials stand among the columns of the plan."""

    columns: tuple[int, ...]
    materials: tuple[Material, ...]
    strengths: Array
    bloom: float | None
    lines: tuple[int, ...]


def agent_columns(plan: Plan) -> dict[str, AgentColumns]:
    """Return the agents of a plan; blends and trade products count under their table agent."""
    found: dict[str, list[int]] = {}
    for column, material in enumerate(plan.materials):
        if material.agent is not None:
            found.setdefault(material.agent.key, []).append(column)
    return {key: _columns(plan, columns) for key, columns in found.items()}


def _columns(plan: Plan, columns: list[int]) -> AgentColumns:
    materials = tuple(plan.materials[column] for column in columns)
    sides = [material.agent for material in materials if material.agent is not None]
    blooms = [side.bloom for side in sides if side.bloom is not None]
    rows = np.flatnonzero(plan.expansion[:, columns].any(axis=1))
    return AgentColumns(
        tuple(columns),
        materials,
        np.array([side.strength_factor for side in sides]),
        # The weaker one speaks for a mix, to err on the soft side.
        min(blooms, default=None),
        tuple(plan.readings[plan.used[row]].number for row in rows),
    )


def process_of(plan: Plan, steps: tuple[Step, ...] | None = None) -> Process:
    """Return what the steps of the formula do to its agents."""
    steps = steps_parse(plan.formula.steps) if steps is None else steps
    agents = agent_columns(plan)
    by_number = {plan.readings[p].number: plan.readings[p] for p in plan.used}
    acids = _acids(plan)
    return process_read(
        steps,
        agents={key: group.materials for key, group in agents.items()},
        lines={
            key: tuple(by_number[number].line for number in group.lines)
            for key, group in agents.items()
        },
        is_carried=any(_carries(plan.readings[p].line) for p in plan.used),
        has_acid=bool(acids),
        acid_phase=acid_in_phase(tuple(leaf.phase for leaf in acids)),
        serving_c=plan.formula.serving_temperature_c,
    )


def _carries(line: Line) -> bool:
    """True for a line that carries the powder in: "60 g sugar (with the agents)"."""
    return line.ratio_with_agent is not None or bool(line.hints & CARRYING)


def _acids(plan: Plan) -> list[Leaf]:
    """Return the ingredients that are clearly acid by themselves."""
    return [
        leaf
        for leaf in plan.leaves()
        if (material := leaf.reading.material) is not None and is_clearly_acid(material)
    ]


def batch_assess(  # noqa: PLR0913 - a batch depends on that many things
    plan: Plan,
    line_masses: Array,
    *,
    evaporation: Array | None = None,
    process: Process | None = None,
    steps: tuple[Step, ...] | None = None,
    measured_ph: Span | None = None,
    ph_offset: float = 0.0,
    corrections: Mapping[str, Corrections] | None = None,
    pot: PotCourse | None = None,
    disturbed: Disturbances | None = None,
) -> BatchState:
    """Return the state of n candidate batches of one plan.

    `line_masses` is (n, L) grams of the plan's lines; `evaporation` (n,) the share lost as
    steam, by default the formula's own. All candidates share the materials and the steps. A
    `measured_ph` of this very formula wins over the computed one; `ph_offset` is what an earlier
    version was measured above its computed value. `corrections` are what the kitchen measured
    of its agents. A computed `pot` tells how hot each agent gets where; all candidates share it.
    `disturbed` tells how the kitchen and the lots of each candidate differ.
    """
    steps = steps_parse(plan.formula.steps) if steps is None else steps
    masses = row_products(line_masses, plan.expansion)
    steam = np.full(len(masses), plan.evaporation) if evaporation is None else evaporation
    composition = composition_roll_up(masses, plan.materials, steam)
    water = water_phase(
        masses, plan.materials, composition, measured_ph=measured_ph, ph_offset=ph_offset
    )
    path = process_of(plan, steps) if process is None else process
    served = np.broadcast_to(_serving_c(path), (len(masses),))
    salts = free_salts(masses, plan.materials, water)
    if disturbed is not None:
        water, salts = disturbed.water(water), disturbed.metals(salts)
        path, served = disturbed.process(path), served + disturbed.serving_k
    acid = {key: acid_path(steps, path, key) for key in path.agents}
    groups = agent_columns(plan)
    enzyme = any(m.enzyme and m.enzyme_certainty == "contains" for m in plan.materials)
    doses = {key: _percent(masses, group, composition) for key, group in groups.items()}
    active = {
        key: _percent(masses, group, composition, active=True) for key, group in groups.items()
    }
    if disturbed is not None:
        active = {key: disturbed.active(key, dose) for key, dose in active.items()}
    paces = histories(steps)
    states = {
        key: agent_state(
            AgentInput(
                key=key,
                dose_pct=doses[key],
                active_pct=active[key],
                bloom=group.bloom,
                water=water,
                water_share=composition.share("water_g"),
                fat_share=composition.share("fat_g"),
                salts=salts,
                path=path.agents[key],
                process=path,
                heat=Paces(*(history.from_step(path.agents[key].enters) for history in paces)),
                serving_c=served,
                lags=pot_lags(steps, path.agents[key].enters),
                has_enzyme=enzyme and not _enzyme_is_tamed(plan),
                acid=acid[key],
                pot=pot,
                hotter_k=None if disturbed is None else disturbed.hotter_k,
                longer_log=None if disturbed is None else disturbed.longer_log,
            ),
            (corrections or {}).get(key, UNCORRECTED),
        )
        for key, group in groups.items()
    }
    return BatchState(
        line_masses,
        masses,
        composition,
        water,
        salts,
        path,
        doses,
        states,
        texture_state(
            states,
            Kitchen(
                coldest_c=np.broadcast_to(path.coldest_c, (len(masses),)),
                serving_c=served,
                potassium=water.free.metals["potassium"].value,
                ph=water.ph,
                milk_protein=water.milk_protein_share,
            ),
            composition.share("fat_g"),
        ),
        served,
    )


def _serving_c(process: Process) -> Array:
    """Return the temperature the batch is judged at: as served, or as cold as it got."""
    return process.coldest_c if process.serving_c is None else np.array([process.serving_c])


def _percent(
    masses: Array, group: AgentColumns, composition: Composition, *, active: bool = False
) -> Array:
    grams = masses[:, group.columns]
    total = grams @ group.strengths if active else grams.sum(axis=1)
    finished = composition.finished_g
    return np.asarray(
        100.0 * np.divide(total, finished, out=np.zeros_like(total), where=finished > 0)
    )


def _enzyme_is_tamed(plan: Plan) -> bool:
    """True when every enzyme fruit is written as cooked, boiled or canned."""
    hot = {"boiled", "cooked", "canned"}
    return all(
        leaf.reading.line.hints & hot
        for leaf in plan.leaves()
        if leaf.reading.material is not None and leaf.reading.material.enzyme
    )
