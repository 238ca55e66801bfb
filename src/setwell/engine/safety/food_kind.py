"""What kind of food a formula is, as far as its safety rules go."""

from dataclasses import dataclass, replace

from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.rules.bench import Bench
from setwell.engine.rules.eggs import eggs_still_raw, is_heated_before_egg
from setwell.engine.spans import Spans

# The steps of the law: 10 % fat and 18 % solids of a dairy base.
_RICH_FAT, _RICH_SOLIDS = 0.10, 0.18
# Sugar or salt that protects Salmonella in egg: from 2 % the law asks for a hotter row.
_PROTECTING = 0.02
# Less than this of an ingredient is a trace.
_TRACE = 0.001
# Egg with no more of anything else than the law's own blends is liquid egg as such.
_BLEND, _FORTIFIED = 0.02, 0.12
_FORTIFIED_SOLIDS = (0.24, 0.38)
_ACID_PH = 4.6
_YOLKS = frozenset({"egg_yolk", "egg_yolk_powder"})
_WHITES = frozenset({"egg_white", "egg_white_powder"})
_DAIRY = frozenset({"dairy", "cheese"})
_FRUIT = frozenset({"fruit", "juice"})
_EGG, _SUGAR = frozenset({"egg"}), frozenset({"sugar"})


@dataclass(frozen=True, slots=True)
class FoodKind:
    """What is in it, in mass fractions of the finished batch.

    `liquid_egg` is the kind of egg product when it is liquid egg as such, else empty. There is
    no roast among them: the table for roasts is never for a mix.
    """

    # Every line was read; else anything may be in it.
    is_complete: bool
    raw_egg: bool
    # The steps heat the pot before the egg goes in.
    is_egg_late: bool
    egg: float
    yolk: float
    white: float
    dairy: float
    sugar: float
    salt: float
    fat: float
    solids: float
    is_sweetened: bool
    has_fruit: bool
    has_raw_milk: bool
    ph: Spans
    water_activity: Spans
    is_ph_measured: bool
    liquid_egg: str = ""

    @property
    def has_egg(self) -> bool:
        """True for more than a trace of egg, raw or treated."""
        return self.egg > _TRACE

    @property
    def has_dairy(self) -> bool:
        """True for more than a trace of milk, cream or cheese."""
        return self.dairy > _TRACE

    @property
    def has_yolk(self) -> bool:
        """True where there is yolk, also inside whole egg."""
        return self.egg - self.white > _TRACE

    @property
    def is_sugar_protected(self) -> bool:
        """True with enough sugar to protect Salmonella."""
        return self.sugar >= _PROTECTING

    @property
    def is_salt_protected(self) -> bool:
        """True with enough salt to protect Salmonella."""
        return self.salt >= _PROTECTING

    @property
    def is_acid(self) -> bool:
        """True where even the highest pH expected is that of an acid food."""
        return bool(self.ph.high[0] <= _ACID_PH)

    @property
    def rich_because(self) -> tuple[str, ...]:
        """Why a dairy base takes the rows 3 °C (5 °F) hotter; empty when it does not."""
        reasons = (
            (self.fat >= _RICH_FAT, f"{100.0 * self.fat:.0f} % fat"),
            (self.solids >= _RICH_SOLIDS, f"{100.0 * self.solids:.0f} % solids"),
            (self.is_sweetened, "sweetened"),
        )
        return tuple(said for holds, said in reasons if holds)


def food_kind(bench: Bench, row: int = 0) -> FoodKind:
    """Return the kind of food that one candidate of a bench is.

    Doubt goes to the safe side: what may have the fat or the solids of a rich base has them.
    """
    composition, water = bench.state.composition, bench.state.water
    finished = max(float(composition.finished_g[row]), 1e-9)
    materials = bench.plan.materials
    names = [material.table_key or material.key for material in materials]
    masses = (bench.state.masses[row] / finished).clip(0.0)

    def share(groups: frozenset[str]) -> float:
        return sum(float(m) for m, of in zip(masses, materials, strict=True) if of.group in groups)

    def named(keys: frozenset[str]) -> float:
        return sum(float(m) for m, name in zip(masses, names, strict=True) if name in keys)

    kind = FoodKind(
        is_complete=_is_complete(bench),
        raw_egg=bool(eggs_still_raw(bench)),
        is_egg_late=is_heated_before_egg(bench),
        egg=share(_EGG),
        yolk=named(_YOLKS),
        white=named(_WHITES),
        dairy=share(_DAIRY),
        sugar=float(composition.share("sugars_g")[row]),
        # Salt is 2.54 times its sodium; mg to g.
        salt=float(composition.share("sodium_mg")[row]) * 2.54 / 1000.0,
        fat=_edge(bench, "fat_g", row, 1.0) / finished,
        solids=1.0 - max(_edge(bench, "water_g", row, -1.0) / finished, 0.0),
        is_sweetened=share(_SUGAR) + _edge(bench, "added_sugars_g", row, 1.0) / finished > _TRACE,
        has_fruit=share(_FRUIT) > _TRACE,
        has_raw_milk=_has_raw_milk(bench),
        ph=Spans(*(part[row : row + 1] for part in water.ph)),
        water_activity=Spans(*(part[row : row + 1] for part in water.solids.water_activity)),
        is_ph_measured=water.is_measured,
    )
    return replace(kind, liquid_egg=_liquid_egg(kind))


def _is_complete(bench: Bench) -> bool:
    plan = bench.plan
    read = all(reading.is_usable for reading in plan.readings)
    return read and not plan.problems and not plan.unread_inside()


def _has_raw_milk(bench: Bench) -> bool:
    """True where a line of milk or cream is written as raw."""
    return any(
        leaf.reading.material is not None
        and leaf.reading.material.group in _DAIRY
        and "raw" in leaf.reading.line.hints
        and "pasteurized" not in leaf.reading.line.hints
        for leaf in bench.plan.leaves()
    )


def _edge(bench: Bench, nutrient: str, row: int, side: float) -> float:
    """Return the most (side 1) or the least (side -1) of a nutrient in the batch [g]."""
    composition, index = bench.state.composition, NUTRIENT_INDEX[nutrient]
    half = float(composition.half_width[row, index])
    return float(composition.amount[row, index]) + side * half


def _liquid_egg(kind: FoodKind) -> str:
    """Return the row of the liquid egg table that a mix is, or nothing: milk in it is a custard."""
    other = 1.0 - kind.egg
    if other > _FORTIFIED or kind.has_dairy:
        return ""
    if kind.white >= kind.egg - _TRACE:
        return "white" if other <= _TRACE else ""
    is_yolk = kind.yolk >= kind.egg - _TRACE
    if kind.is_salt_protected or kind.is_sugar_protected:
        added = "salt" if kind.is_salt_protected else "sugar"
        return f"{'yolk' if is_yolk else 'whole'}_{added}"
    if is_yolk:
        return "yolk" if other < _BLEND else ""
    return _plain_whole(kind, other)


def _plain_whole(kind: FoodKind, other: float) -> str:
    if other < _BLEND:
        return "whole_blend" if other > _TRACE else "whole"
    low, high = _FORTIFIED_SOLIDS
    return "fortified" if low <= kind.solids <= high else ""
