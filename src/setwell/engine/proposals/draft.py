"""A proposal as a formula: the base, agents and helpers in grams, and as rows of many doses."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.brief import Brief
from setwell.domain.formula import Formula, formula_make
from setwell.engine.blend_base import grams_text
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.plan import Plan, plan_build
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.method import method_for

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class ProposalDraft:
    """A base with some agents and helpers, ready to be weighed at any dose."""

    base: BriefBase
    brief: Brief
    agents: tuple[BlendAgent, ...]
    helpers: tuple[str, ...] = ()

    @property
    def added(self) -> int:
        """The number of lines that are added before those of the base."""
        return len(self.agents) + len(self.helpers)

    def plan(self) -> Plan:
        """Return the plan with a line for every agent and helper, amounts as examples only."""
        return plan_build(
            self._formula([1.0] * self.added, is_whole=True),
            catalog=self.base.catalog,
            parts=self.base.parts,
        )

    def rows(self, plan: Plan, percents: Array) -> Array:
        """Return the grams of the plan's lines (n, L) for percents (n, added) of the batch."""
        masses = np.tile(plan.line_masses(), (len(percents), 1))
        masses[:, : self.added] = 0.0
        kept = 1.0 - self.base.evaporation
        total = masses.sum(axis=1) / (1.0 - percents.sum(axis=1) / 100.0 * kept)
        masses[:, : self.added] = percents / 100.0 * (total * kept)[:, None]
        return masses

    def formula(self, percents: Sequence[float]) -> Formula:
        """Return the formula at one set of percents; what has none is left out."""
        return self._formula(list(percents), is_whole=False)

    def _formula(self, percents: list[float], *, is_whole: bool) -> Formula:
        kept = 1.0 - self.base.evaporation
        finished = self.base.grams / (1.0 - sum(percents) / 100.0 * kept) * kept
        names = [*(agent.line_name for agent in self.agents), *self.helpers]
        added = [
            f"{grams_text(pct / 100.0 * finished)} g {name}"
            for name, pct in zip(names, percents, strict=True)
            if pct > 0 or is_whole
        ]
        origin = self.base.origin
        steps = method_for(self.base, self.brief, self.agents, self.helpers)
        made = formula_make(
            title=self.title,
            # Before the first heading of the base, so that no agent falls under its last one.
            ingredients="\n".join([*added, *self.base.lines]),
            steps=steps,
            serving_temperature_c=self.brief.serving_c,
            diets=self.brief.diets,
        )
        if origin is None:
            return made
        return made.revised(
            evaporation_pct=origin.evaporation_pct, loss_pct=origin.loss_pct,
            portions=origin.portions, molds=origin.molds, parts=origin.parts,
        )  # fmt: skip

    @property
    def title(self) -> str:
        """The title of the formula."""
        names = " and ".join(agent.line_name for agent in self.agents)
        return f"{self.brief.title}: {names}"[:120]
