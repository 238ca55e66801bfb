"""The formula with another agent, as kitchen lines and steps."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from setwell.domain.formula import Formula
from setwell.domain.steps import Step, steps_parse
from setwell.engine.blend_base import grams_text
from setwell.engine.blend_formula import agent_named
from setwell.engine.catalog import Catalog
from setwell.engine.material import Material
from setwell.engine.rules.bench import PRACTICE
from setwell.engine.substitution.ask import GELATIN
from setwell.engine.substitution.method import (
    Family,
    NewAgent,
    family_of,
    is_acid_shy,
    steps_text,
    steps_with,
)
from setwell.engine.substitution.naming import steps_renamed, steps_without
from setwell.engine.substitution.original import Kitchen, Original
from setwell.errors import MissingDataError
from setwell.provenance import Evidence
from setwell.tables.agents import agent_rows


@dataclass(frozen=True, slots=True)
class Salt:
    """A salt that goes with an agent: a share of the batch, or so much per gram of agent."""

    name: str
    percent: float
    per_gram: float
    reason: str
    evidence: Evidence

    def grams(self, agent_g: float, finished_g: float) -> float:
        """Return what is weighed of it."""
        return self.percent / 100.0 * finished_g + self.per_gram * agent_g


_KAPPA = "kappa needs free potassium to set firmly"
_KCL, _LACTATE = "potassium chloride", "calcium lactate"
# Percent of the batch, or grams per gram of agent (common practice, to be proved in a cup);
# calcium lactate is taken as the pentahydrate with 13 % calcium.
_SALTS: Mapping[str, tuple[str, float, float, str]] = {
    "kappa_carrageenan": (_KCL, 0.175, 0.0, _KAPPA),
    "processed_eucheuma": (_KCL, 0.175, 0.0, _KAPPA),
    "kappa_LBG": (_KCL, 0.175, 0.0, _KAPPA),
    "kappa_konjac": (_KCL, 0.175, 0.0, _KAPPA),
    "iota_carrageenan": (_LACTATE, 0.1, 0.0, "iota sets with free calcium"),
    "gellan_LA": (_LACTATE, 0.1, 0.0, "low acyl gellan sets with free calcium or other salts"),
    "pectin_LM": (_LACTATE, 0.0, 0.3, "low methoxyl pectin sets with calcium"),
    "pectin_LMA": (_LACTATE, 0.0, 0.3, "amidated pectin sets with calcium"),
    "sodium_alginate": (
        _LACTATE, 0.0, 0.35,
        "alginate sets with calcium; drops set in a bath of 1 % calcium lactate instead",
    ),
}  # fmt: skip


def salt_for(key: str) -> Salt | None:
    """Return the salt that helps an agent to set, where one does."""
    if key not in _SALTS:
        return None
    name, percent, per_gram, reason = _SALTS[key]
    evidence = PRACTICE
    try:
        found = agent_rows()[key].figure("added_potassium_chloride")
        percent, evidence = found.value, (found.citation,)
    except MissingDataError:
        pass
    return Salt(name, percent, per_gram, reason, evidence)


@dataclass(frozen=True, slots=True)
class Draft:
    """A new agent in the place of an old one; without a material nothing comes instead."""

    original: Original
    material: Material | None
    line_name: str
    salt: Salt | None
    # How warm it is poured at least, once known.
    pour_c: float | None = None

    @property
    def key(self) -> str:
        """The table key of the new agent; empty for none."""
        return (
            ""
            if self.material is None or self.material.agent is None
            else (self.material.agent.key)
        )

    @property
    def catalog(self) -> Catalog:
        """The catalog with the new agent as it is, such as a weaker lot."""
        known, made = self.original.kitchen.catalog, self.material
        if made is None or made.agent is None:
            return known
        if made.key in known.materials:
            return replace(known, materials={**known.materials, made.key: made})
        # A stated Bloom comes from the line; the strength of the lot from the powder below it.
        base = known.materials.get(made.key.rsplit(":", 1)[0])
        if base is None or base.agent is None:
            return known
        side = replace(base.agent, strength_factor=made.agent.strength_factor)
        return replace(known, materials={**known.materials, base.key: replace(base, agent=side)})

    @property
    def kitchen(self) -> Kitchen:
        """The kitchen with that catalog."""
        return replace(self.original.kitchen, catalog=self.catalog)

    def formula(self, grams: float) -> Formula:
        """Return the formula with so much of the new agent."""
        old = self.original.formula
        return old.revised(
            title=self._title, ingredients="\n".join(self._lines(grams)),
            steps=self._steps(),
        )  # fmt: skip

    def salt_grams(self, grams: float) -> float:
        """Return the grams of the salt beside so much of the agent."""
        if self.salt is None:
            return 0.0
        return self.salt.grams(grams, self.original.finished_g)

    @property
    def _title(self) -> str:
        title = self.original.formula.title
        tail = f" with {self.line_name}" if self.line_name else " without "
        if not self.line_name:
            tail += self.original.readings[0].line.name
        return f"{title[: 120 - len(tail)]}{tail}"[:120]

    def new_lines(self, grams: float) -> list[str]:
        """Return the lines that come instead."""
        lines = []
        side = None if self.material is None else self.material.agent
        if side is not None:
            graded = side.key == GELATIN and side.bloom is not None
            grade = f", {side.bloom:g} Bloom" if graded else ""
            lines.append(f"{grams_text(grams)} g {self.line_name}{grade}")
        if self.salt is not None:
            lines.append(f"{grams_text(self.salt_grams(grams))} g {self.salt.name}")
        if self.original.water_g > 0:
            lines.append(f"{grams_text(self.original.water_g)} g water")
        return lines

    def _lines(self, grams: float) -> list[str]:
        numbers = [one.number for one in self.original.readings]
        weighed = self.original.percents_in_grams()
        made: list[str] = []
        for number, typed in enumerate(self.original.formula.ingredients.splitlines(), start=1):
            if number == numbers[0]:
                made += self.new_lines(grams)
            elif number not in numbers:
                made.append(weighed.get(number, typed))
        return made

    def _steps(self) -> str:
        old = self.original
        steps = steps_parse(old.formula.steps)
        if self.is_same_agent:
            return old.formula.steps
        kept = steps_without(steps, old.names, old.other_names)
        if not self.key:
            return steps_text([step.text for step in kept])
        renamed = self._renamed(steps)
        late = old.late_acids() if is_acid_shy(self.key) else ()
        salts = () if self.salt is None else (self.salt.name,)
        new = NewAgent(self.key, self.line_name, salts, late, self.pour_c)
        return steps_with(kept if renamed is None else renamed, new, is_in=renamed is not None)

    def _renamed(self, steps: tuple[Step, ...]) -> list[Step] | None:
        """Return the steps with only the name changed, where both go in the same way, hot."""
        side = self.original.material.agent
        if side is None or family_of(side.key) is not family_of(self.key):
            return None
        if family_of(self.key) not in {Family.HOT, Family.SLURRY}:
            return None
        return steps_renamed(steps, self.original.names, self.line_name)

    @property
    def is_same_agent(self) -> bool:
        """True where only grade or lot changes."""
        side = self.original.material.agent
        return side is not None and side.key == self.key


def draft_of(original: Original, material: Material | None, *, has_salt: bool = False) -> Draft:
    """Return the draft of one swap."""
    if material is None or material.agent is None:
        return Draft(original, None, "", None)
    plain = original.kitchen.catalog.materials.get(material.key.rsplit(":", 1)[0], material)
    if material.key in original.kitchen.catalog.materials:
        plain = material
    name = agent_named(plain, original.kitchen.catalog).line_name
    salt = salt_for(material.agent.key) if has_salt else None
    return Draft(original, material, name, salt)


def amounts_at(draft: Draft, grams: np.ndarray) -> np.ndarray:
    """Return the grams of the new lines (n, k) for n doses of the agent."""
    columns = [grams]
    if draft.salt is not None:
        flat = draft.salt.percent / 100.0 * draft.original.finished_g
        columns.append(flat + draft.salt.per_gram * grams)
    if draft.original.water_g > 0:
        columns.append(np.full_like(grams, draft.original.water_g))
    return np.stack(columns, axis=1)
