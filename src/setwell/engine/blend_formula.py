"""A blend to try out as kitchen lines and steps: a base, two or three agents, salts and heat."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.formula import Formula, formula_make
from setwell.engine.blend_base import formula_base, grams_text
from setwell.engine.catalog import Catalog
from setwell.engine.material import Material, MaterialKind
from setwell.engine.names import names_nearest
from setwell.engine.plan import Plan
from setwell.errors import InputError, OutOfRangeError, UnknownNameError

Array = NDArray[np.float64]

DOSE_MOST_PCT = 60.0
SALT_MOST_PCT = 5.0
STIRRING = {
    "constant": "stirring all the time",
    "occasional": "stirring now and then",
    "none": "without stirring",
}
_BATCH_G = 1000.0
_SALTS = ("potassium chloride", "calcium lactate")
_GELATINS = frozenset({"gelatin", "gelatin_fish_cold"})
_FRIDGE_C, _WARM_C = 4.0, 25.0


@dataclass(frozen=True, slots=True)
class BlendAsk:
    """What to try: agents in parts, their dose in percent of the finished batch, base and heat.

    With a `formula` the base is that formula without its agents; otherwise `base` names one
    ingredient. Without `heat_c` nothing is heated.
    """

    agents: tuple[str, ...]
    parts: tuple[float, ...]
    dose_pct: float
    base: str = "water"
    formula: Formula | None = None
    potassium_chloride_pct: float = 0.0
    calcium_lactate_pct: float = 0.0
    heat_c: float | None = 90.0
    hold_min: float = 5.0
    stirring: str = "constant"
    serving_c: float = 4.0


@dataclass(frozen=True, slots=True)
class BlendAgent:
    """One agent of the blend: its table key, its name, how a line names it, the lot in use."""

    key: str
    name: str
    line_name: str
    lot: str


@dataclass(frozen=True, slots=True)
class BlendDraft:
    """A blend ready to be weighed: `base_grams` of the base lines, shares that make a whole."""

    ask: BlendAsk
    agents: tuple[BlendAgent, ...]
    shares: tuple[float, ...]
    base_lines: tuple[str, ...]
    base_grams: float
    steps: str
    remarks: tuple[str, ...]

    @property
    def is_one_food(self) -> bool:
        """True when the base is one ingredient and not a formula."""
        return self.ask.formula is None

    @property
    def evaporation(self) -> float:
        """Share of the ingredients' weight that leaves as steam."""
        return 0.0 if self.ask.formula is None else self.ask.formula.evaporation_pct / 100.0

    @property
    def salts_pct(self) -> tuple[tuple[str, float], ...]:
        """The salts that are in, with their percent of the finished batch."""
        asked = (self.ask.potassium_chloride_pct, self.ask.calcium_lactate_pct)
        return tuple((name, pct) for name, pct in zip(_SALTS, asked, strict=True) if pct > 0)

    @property
    def formula(self) -> Formula:
        """The blend as a formula of kitchen lines, agents without a dose left out."""
        doses = [share * self.ask.dose_pct for share in self.shares]
        return self._formula(doses, is_for_grid=False)

    @property
    def grid_formula(self) -> Formula:
        """The same with a line for every agent, whatever its dose; amounts are only examples."""
        return self._formula([1.0] * len(self.agents), is_for_grid=True)

    def total_g(self, added_pct: float) -> float:
        """Return the weight of all ingredients, before any steam leaves."""
        return self.base_grams / (1.0 - added_pct / 100.0 * (1.0 - self.evaporation))

    def _formula(self, doses: list[float], *, is_for_grid: bool) -> Formula:
        salts = self.salts_pct
        added = sum(doses) + sum(pct for _, pct in salts)
        total = _BATCH_G if self.is_one_food else self.total_g(added)
        finished = total * (1.0 - self.evaporation)
        lines = [
            f"{grams_text(dose / 100.0 * finished)} g {agent.line_name}"
            for agent, dose in zip(self.agents, doses, strict=True)
            if dose > 0 or is_for_grid
        ]
        lines += [f"{grams_text(pct / 100.0 * finished)} g {name}" for name, pct in salts]
        base = list(self.base_lines)
        if self.is_one_food:
            base = [f"{grams_text(total * (1.0 - added / 100.0))} g {self.ask.base}"]
            lines = [*base, *lines]
        else:
            # Before the first heading of the base, so that no agent falls under its last one.
            lines = [*lines, *base]
        origin = self.ask.formula
        made = formula_make(
            title=self._title, ingredients="\n".join(lines), steps=self.steps,
            serving_temperature_c=self.ask.serving_c,
        )  # fmt: skip
        if origin is None:
            return made
        return made.revised(
            evaporation_pct=origin.evaporation_pct, loss_pct=origin.loss_pct,
            portions=origin.portions, molds=origin.molds, diets=origin.diets,
            goal=origin.goal, parts=origin.parts,
        )  # fmt: skip

    @property
    def _title(self) -> str:
        names = " and ".join(agent.line_name for agent in self.agents)
        names = f"{names[:1].upper()}{names[1:]}"
        origin = self.ask.formula
        where = origin.title if origin is not None else self.ask.base
        return f"{names} in {where}"[:120]


def blend_draft(
    ask: BlendAsk, *, catalog: Catalog, parts: Mapping[str, Formula] | None = None
) -> BlendDraft:
    """Return a blend read against the catalog.

    Raises InputError with the field it belongs to: `agent_1` to `agent_3`, `part_1` ..., `dose`,
    `base`, `formula`, `potassium_chloride`, `calcium_lactate`, `stirring`.
    """
    _checked_numbers(ask)
    # One line of the kitchen, whatever was pasted.
    ask = replace(ask, base=" ".join(ask.base.replace(",", " ").split()))
    agents = _agents(ask, catalog)
    shares, remarks = _shares(ask)
    steps = _steps(ask, agents)
    if ask.formula is not None:
        lines, grams, said = formula_base(ask.formula, catalog, parts or {})
        return BlendDraft(ask, agents, shares, lines, grams, steps, (*remarks, *said))
    found = catalog.find(ask.base)
    if found is None or found.material.kind is not MaterialKind.FOOD:
        raise _unknown(ask.base, "base", "a food", catalog)
    if found.assumption:
        remarks = (*remarks, f"“{ask.base}” is taken as {found.material.name.lower()}.")
    line = f"{_BATCH_G:g} g {ask.base}"
    return BlendDraft(ask, agents, shares, (line,), _BATCH_G, steps, remarks)


def _checked_numbers(ask: BlendAsk) -> None:
    if not 0.0 <= ask.dose_pct <= DOSE_MOST_PCT:
        raise OutOfRangeError(
            f"A dose of {ask.dose_pct:g} % cannot be tried here.",
            field="dose",
            hint=f"Write a number from 0 to {DOSE_MOST_PCT:g} %; most blends need 0.2 to 3 %.",
        )
    salts = {
        "potassium_chloride": ask.potassium_chloride_pct,
        "calcium_lactate": ask.calcium_lactate_pct,
    }
    for field, pct in salts.items():
        if not 0.0 <= pct <= SALT_MOST_PCT:
            raise OutOfRangeError(
                f"{pct:g} % {field.replace('_', ' ')} cannot be tried here.",
                field=field,
                hint=f"Write a number from 0 to {SALT_MOST_PCT:g} %.",
            )
    if ask.stirring not in STIRRING:
        raise InputError(
            f"“{ask.stirring}” is no way to stir.",
            field="stirring",
            hint=f"Choose one of {', '.join(STIRRING)}.",
        )


def _agents(ask: BlendAsk, catalog: Catalog) -> tuple[BlendAgent, ...]:
    if len(ask.agents) not in {2, 3}:
        raise InputError(
            f"A blend takes two or three agents, not {len(ask.agents)}.", field="agent_2"
        )
    if len(ask.parts) != len(ask.agents):
        raise InputError(
            f"There are {len(ask.agents)} agents and {len(ask.parts)} parts.",
            field="part_1",
            hint="Give one part for each agent.",
        )
    materials: list[Material] = []
    for number, name in enumerate(ask.agents, start=1):
        found = catalog.find(name)
        if found is None or found.material.agent is None:
            raise _unknown(name, f"agent_{number}", "a texture agent", catalog, is_agent=True)
        if any(one.key == found.material.key for one in materials):
            raise InputError(
                f"{found.material.name} is in the blend already.",
                field=f"agent_{number}",
                hint="Choose another agent, or one agent less.",
            )
        materials.append(found.material)
    return tuple(agent_named(material, catalog) for material in materials)


def _unknown(
    name: str, field: str, wanted: str, catalog: Catalog, *, is_agent: bool = False
) -> InputError:
    shown = name.strip()[:60]
    if not shown:
        return InputError(f"Nothing is named here; {wanted} is needed.", field=field)
    if catalog.find(name) is not None:
        return InputError(f"“{shown}” is not {wanted}.", field=field, hint="Choose another.")
    near = agents_nearest(name, catalog) if is_agent else catalog.nearest(name)
    offer = f"Nearest: {', '.join(near)}." if near else "Choose one from the list."
    return UnknownNameError(f"“{shown}” is not known.", field=field, hint=offer, nearest=near)


def agents_nearest(name: str, catalog: Catalog) -> tuple[str, ...]:
    """Return the closest names of agents; a food would be no help here."""
    names = {
        one: key for one, key in catalog.names.items() if catalog.materials[key].agent is not None
    }
    best = dict.fromkeys(names[one] for one in names_nearest(name, names))
    return tuple(catalog.materials[key].name for key in best)[:3]


def agent_named(material: Material, catalog: Catalog) -> BlendAgent:
    """Return an agent with the name that a line finds it by."""
    side = material.agent
    if side is None:  # Only agents come here.
        raise InputError(f"{material.name} is not a texture agent.")
    # On a line a comma starts a note: the name goes without, and leads to the same powder.
    plain = material.name.replace(",", "")
    found = catalog.find(plain)
    if found is None or found.material.key != material.key:
        plain = next((one for one, key in catalog.names.items() if key == material.key), plain)
    written = plain if material.key.startswith("own:") else f"{plain[:1].lower()}{plain[1:]}"
    return BlendAgent(side.key, material.name, written, side.lot)


def _shares(ask: BlendAsk) -> tuple[tuple[float, ...], tuple[str, ...]]:
    for number, part in enumerate(ask.parts, start=1):
        if not (np.isfinite(part) and part >= 0.0):
            raise OutOfRangeError(
                f"{part:g} parts are not possible.",
                field=f"part_{number}",
                hint="Write a number from 0 up.",
            )
    total = sum(ask.parts)
    if total <= 0.0:
        raise InputError(
            "All parts are 0, so there is no blend.", field="part_1", hint="Give one at least 1."
        )
    shares = tuple(part / total for part in ask.parts)
    if abs(total - 100.0) < 1e-6:
        return shares, ()
    given = " : ".join(f"{part:g}" for part in ask.parts)
    taken = " : ".join(f"{100.0 * share:.3g}" for share in shares)
    return shares, (f"The parts {given} add up to {total:g}, not 100: taken as {taken} percent.",)


def _steps(ask: BlendAsk, agents: tuple[BlendAgent, ...]) -> str:
    bloomed = [agent.line_name for agent in agents if agent.key in _GELATINS]
    others = [agent.line_name for agent in agents if agent.key not in _GELATINS]
    steps = [f"Bloom the {name} in some of the cold base" for name in bloomed]
    if others:
        steps.append(f"Disperse the {' and the '.join(others)} in the cold base with a blender")
    if ask.heat_c is not None:
        steps.append(
            f"Heat to {ask.heat_c:g} °C, {STIRRING[ask.stirring]}, and hold {ask.hold_min:g} min"
        )
    for name, pct in zip(
        _SALTS, (ask.potassium_chloride_pct, ask.calcium_lactate_pct), strict=True
    ):
        if pct > 0:
            steps.append(f"Stir in the {name}")
    steps.append("Pour into molds")
    # What is served warm is not chilled before; what is served cold sets in the fridge.
    if ask.serving_c > _WARM_C:
        steps.append(f"Cool to {ask.serving_c:g} °C")
    else:
        steps.append(f"Chill to {min(ask.serving_c, _FRIDGE_C):g} °C for 12 h")
    return "\n".join(steps)


def grid_rows(draft: BlendDraft, plan: Plan, doses_pct: Array) -> Array:
    """Return the grams of the plan's lines (n, L) for doses (n, agents) in percent."""
    salts = np.array([pct for _, pct in draft.salts_pct])
    columns = np.concatenate([doses_pct, np.tile(salts, (len(doses_pct), 1))], axis=1)
    first = 1 if draft.is_one_food else 0
    added = slice(first, first + columns.shape[1])
    masses = np.tile(plan.line_masses(), (len(doses_pct), 1))
    masses[:, added] = 0.0
    kept = 1.0 - draft.evaporation
    total = masses.sum(axis=1) / (1.0 - columns.sum(axis=1) / 100.0 * kept)
    masses[:, added] = columns / 100.0 * (total * kept)[:, None]
    return masses
