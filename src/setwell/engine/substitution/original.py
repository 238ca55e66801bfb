"""The formula before the swap: what goes, what it weighs, and what is to be kept."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.amounts import AmountKind
from setwell.domain.formula import Formula
from setwell.engine.acid_materials import is_clearly_acid
from setwell.engine.assess import bench_build
from setwell.engine.blend_base import grams_text
from setwell.engine.catalog import Catalog
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.gelling.state import STIRRING_RATE
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.resolve import Reading
from setwell.engine.rules.bench import Bench
from setwell.engine.spans import Spans
from setwell.engine.substitution.ask import (
    EGG,
    SubstitutionAsk,
    keep_read,
    lines_checked,
    name_of,
    replaced_find,
)
from setwell.engine.substitution.results import Keep
from setwell.engine.texture import TextureState
from setwell.engine.texture_results import Texture
from setwell.engine.texture_words import texture_words
from setwell.engine.verdict import Verdict
from setwell.errors import InputError
from setwell.provenance import Estimate

Array = NDArray[np.float64]

# An acid ingredient above this share of the batch is the base itself, not an addition.
_BASE_SHARE = 0.25
# Softer than this is a thick liquid, whose thickness is what counts (our judgment).
_LEAST_GEL_KPA = 0.05
_UNITS = {Keep.FIRMNESS: "kPa", Keep.BREAK: "kPa", Keep.THICKNESS: "mPa·s", Keep.SETTING: "°C"}
KEPT_NAMES = {
    Keep.FIRMNESS: "Firmness (shear modulus)",
    Keep.BREAK: "Stress at break",
    Keep.THICKNESS: "Thickness at 50 1/s",
    Keep.SETTING: "Setting temperature",
}


@dataclass(frozen=True, slots=True)
class Kitchen:
    """What a formula is computed with."""

    catalog: Catalog
    parts: Mapping[str, Formula]
    corrections: Mapping[str, Corrections] | None


@dataclass(frozen=True, slots=True)
class Original:
    """The formula as it is; `water_g` is what egg brings that has to be made up for."""

    bench: Bench
    kitchen: Kitchen
    readings: tuple[Reading, ...]
    grams: float
    keep: Keep
    target: Estimate
    texture: Texture
    water_g: float

    @property
    def formula(self) -> Formula:
        """The formula before the swap."""
        return self.bench.formula

    @property
    def material(self) -> Material:
        """What goes."""
        found = self.readings[0].material
        if found is None:  # Only lines with a material are replaced.
            raise InputError("This line has no material.", field="replace")
        return found

    @property
    def finished_g(self) -> float:
        """The weight of the finished batch."""
        return float(self.bench.state.composition.finished_g[0])

    @property
    def names(self) -> tuple[str, ...]:
        """What the steps may call the thing that goes."""
        aliases = ("eggs", "egg", "yolks", "yolk") if self.is_egg else ()
        return (*(one.line.name for one in self.readings), self.material.name, *aliases)

    @property
    def other_names(self) -> tuple[str, ...]:
        """The names of all other ingredients."""
        gone = {one.number for one in self.readings}
        plan = self.bench.plan
        left = (plan.readings[n] for n in plan.used)
        return tuple(one.line.name for one in left if one.number not in gone)

    @property
    def is_egg(self) -> bool:
        """True where egg goes."""
        return self.material.agent is None

    def percents_in_grams(self) -> dict[int, str]:
        """Return the lines of a formula in percentages only as grams, by their number.

        Beside a line in grams percentages alone would no longer add up to a batch.
        """
        plan = self.bench.plan
        used = [plan.readings[n] for n in plan.used]
        if not all(one.kind is AmountKind.PERCENT and one.is_relative for one in used):
            return {}
        weights = self.bench.state.line_masses[0]
        return {
            one.number: f"{grams_text(float(grams))} g {one.line.name}"
            + (f", {one.line.note}" if one.line.note else "")
            for one, grams in zip(used, weights, strict=True)
        }

    def late_acids(self) -> tuple[str, ...]:
        """Return acid ingredients that are an addition and not the base."""
        plan, state = self.bench.plan, self.bench.state
        weights = dict(zip(plan.used, state.line_masses[0], strict=True))
        return tuple(
            plan.readings[n].line.name
            for n, grams in weights.items()
            if (material := plan.readings[n].material) is not None
            and is_clearly_acid(material)
            and grams < _BASE_SHARE * self.finished_g
        )


def original_read(ask: SubstitutionAsk, formula: Formula, kitchen: Kitchen) -> Original:
    """Return the formula before the swap, or say what is wrong with it."""
    bench = bench_build(
        formula, catalog=kitchen.catalog, parts=kitchen.parts, corrections=kitchen.corrections
    )
    lines_checked(bench.plan)
    readings = replaced_find(ask, bench.plan, kitchen.catalog)
    texture = texture_words(bench)
    is_egg = readings[0].material is not None and readings[0].material.agent is None
    sets = texture.sets is Verdict.YES or (
        texture.modulus_kpa is not None and texture.modulus_kpa.value >= _LEAST_GEL_KPA
    )
    keep = keep_read(ask.keep) or (Keep.FIRMNESS if is_egg or sets else Keep.THICKNESS)
    weights = dict(zip(bench.plan.used, bench.state.line_masses[0], strict=True))
    gone = {one.number for one in readings}
    lines = [(bench.plan.readings[n], g) for n, g in weights.items()]
    mine = [(one, float(g)) for one, g in lines if one.number in gone]
    return Original(
        bench, kitchen, readings, sum(g for _, g in mine), keep,
        _target(ask, keep, bench, name_of(readings[0]), is_egg=is_egg), texture,
        sum(g * _water(one) for one, g in mine) if is_egg else 0.0,
    )  # fmt: skip


def _water(reading: Reading) -> float:
    if reading.material is None or reading.material.group != EGG:
        return 0.0
    return float(np.nan_to_num(reading.material.nutrients[NUTRIENT_INDEX["water_g"]])) / 100.0


def _target(ask: SubstitutionAsk, keep: Keep, bench: Bench, name: str, *, is_egg: bool) -> Estimate:
    unit = _UNITS[keep]
    if ask.target is not None:
        if not (np.isfinite(ask.target) and ask.target > 0):
            raise InputError(
                f"A target of {ask.target:g} {unit} is not possible.",
                field="target",
                hint="Write a number above 0.",
            )
        return Estimate(ask.target, unit, ask.target, ask.target, "as given")
    if is_egg:
        raise InputError(
            "How firm egg sets is not computed: it depends on the egg, the heat and the minutes.",
            field="target",
            hint="Say how firm it should be, in kPa: a soft spoonable set is about 1, a set that "
            "unmolds about 3, a firm slice about 10 (our judgment, prove it in a cup).",
        )
    found = kept_value(bench.state.texture, keep)
    has_none = found is None or not found.value[0] > 0
    if has_none and not ask.keep.strip():
        raise InputError(
            "This formula neither sets nor thickens as it is, so there is no texture to keep.",
            field="target",
            hint="Correct it first, or choose what to keep and give the number to reach.",
        )
    if found is None or has_none:
        raise InputError(
            f"{KEPT_NAMES[keep]} cannot be kept: this formula has none with {name} in it.",
            field="keep",
            hint="Choose another property to keep, or give the number to reach.",
        )
    return found.estimate(unit=unit, model=f"{KEPT_NAMES[keep]} before")


def kept_value(texture: TextureState, keep: Keep) -> Spans | None:
    """Return what is kept, for all candidates; None where there is no such thing."""
    if keep is Keep.SETTING:
        return texture.first_set_c
    if keep is Keep.THICKNESS:
        return None if texture.flow is None else texture.flow.at(STIRRING_RATE).scaled(1000.0)
    if texture.gel is None:
        return None
    part = texture.gel.modulus if keep is Keep.FIRMNESS else texture.gel.fracture_stress
    return part.scaled(0.001)
