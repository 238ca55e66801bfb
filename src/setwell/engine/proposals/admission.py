"""Whether one agent may come in at all: diet, allergens, market and heat."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple, Self

from setwell.domain.brief import Brief, Helper, Market, Plating
from setwell.domain.formula import Diet
from setwell.engine.alcohol_reach import NO_LAW_ABV, is_beyond_laws
from setwell.engine.diets import diet_answer
from setwell.engine.material import Material
from setwell.engine.proposals.allergen_names import allergen_state, allergens_named
from setwell.engine.proposals.base import BriefBase
from setwell.engine.rules.dispersion import needed_c
from setwell.tables.agents import agent_rows
from setwell.tables.rules import mini_cup_bans
from setwell.units import temperature_print

# A thermometer and a pot are not exact [K] (our judgment).
_TOLERANCE_K = 2.0
_BOILS_C = 95.0
# What goes into the mouth whole [mL, or g] (our judgment).
_BITE = 45.0
_ALL_SWEETS = "all jelly confectionery"
_NOT = {
    Diet.VEGAN: "not vegan",
    Diet.VEGETARIAN: "not vegetarian",
    Diet.NO_GLUTEN: "holds gluten",
    Diet.NO_ALCOHOL: "holds alcohol",
}


_FREE = {
    Diet.VEGAN: "vegan",
    Diet.VEGETARIAN: "vegetarian",
    Diet.NO_GLUTEN: "free of gluten",
    Diet.NO_ALCOHOL: "free of alcohol",
}


class Ruling(NamedTuple):
    """What is said of one agent: why it falls out (empty where it stays in), and by which wish.

    `ask` is what its label has to confirm, `law` what the market says of it.
    """

    material: Material
    why: str = ""
    cause: str = ""
    ask: str = ""
    law: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Admission:
    """The limits of one brief that an agent has to keep."""

    diets: tuple[Diet, ...]
    allergens: tuple[str, ...]
    market: Market
    max_c: float
    is_bite: bool
    has_citrate: bool
    alcohol_by_volume: float = 0.0

    @classmethod
    def of(cls, brief: Brief, base: BriefBase) -> Self:
        """Return the limits of a brief. Raises UnknownNameError at `without_allergens`."""
        return cls(
            brief.diets,
            allergens_named(brief, base.catalog),
            brief.market,
            brief.limits.max_temperature_c,
            comes_in_bites(brief, base),
            Helper.TRISODIUM_CITRATE in brief.helpers,
            base.alcohol_by_volume,
        )

    def ruling(self, material: Material) -> Ruling:
        """Return whether an agent may come in, and what its label has to confirm."""
        side = material.agent
        key = "" if side is None else side.key
        told = [*self._diet(material), *self._allergen(material), *self._law(material, key)]
        told += [*self._heat(material, key), *self._alcohol(material, key)]
        broken = [one for one in told if one.why]
        if broken:
            return broken[0]
        asks = list(dict.fromkeys(one.ask for one in told if one.ask))
        asked = (_ask(material, asks),) if asks else ()
        return Ruling(material, remarks=(*asked, *(one.law for one in told if one.law)))

    def _diet(self, material: Material) -> Iterator[Ruling]:
        for diet in self.diets:
            answer = diet_answer(material, diet)
            if answer == "no":
                yield Ruling(material, _NOT[diet], "the diet")
            elif answer == "check":
                yield Ruling(material, ask=_FREE[diet])

    def _allergen(self, material: Material) -> Iterator[Ruling]:
        for allergen in self.allergens:
            word = allergen.replace("_", " ")
            state = allergen_state(material, allergen)
            if state == "yes":
                yield Ruling(material, f"contains {word}", "the allergens")
            elif state == "check":
                yield Ruling(material, ask=f"free of {word}")

    def _law(self, material: Material, key: str) -> Iterator[Ruling]:
        if self.market is Market.US and agent_rows()[key].us_cfr.endswith("check"):
            said = agent_rows()[key].us_cfr.removesuffix(": check")
            law = f"{material.name} in the US: {said}; check with a qualified person."
            yield Ruling(material, law=law)
        ban = mini_cup_bans().get(key)
        if self.market is not Market.EU or ban is None or ban.scope != _ALL_SWEETS:
            return
        if self.is_bite:
            why = "the European Union bars it from jelly confectionery, and this comes in bites"
            yield Ruling(material, why, "the market")
        else:
            yield Ruling(material, law=f"European Union: {ban.statement}")

    def _heat(self, material: Material, key: str) -> Iterator[Ruling]:
        row = agent_rows()[key]
        figure = row.figure("hydration_temperature")
        low = figure.value if figure.low is None else figure.low
        cold_by_citrate = self.has_citrate and "cold_hydration_citrate" in row.properties
        if row.is_cold_soluble or cold_by_citrate or self.max_c >= low - _TOLERANCE_K:
            return
        needed = needed_c(key)
        # What gets by with less than it is best brought to is told by the least it needs.
        wants = "a boil" if needed >= _BOILS_C else f"at least {temperature_print(low)}"
        why = f"needs {wants}, and {temperature_print(self.max_c)} is the most"
        yield Ruling(material, why, "the highest temperature")

    def _alcohol(self, material: Material, key: str) -> Iterator[Ruling]:
        if is_beyond_laws(key, self.alcohol_by_volume):
            yield Ruling(
                material,
                f"no law here tells what it does in {self.alcohol_by_volume:.0f} % alcohol by "
                f"volume; {NO_LAW_ABV:g} % is the most",
                "the strength of the base",
            )

    def caps(self, keys: list[str]) -> Iterator[tuple[str, float]]:
        """Yield what the market's law caps, in percent of the batch."""
        if self.market is not Market.EU:
            return
        for key in keys:
            ban = mini_cup_bans().get(key)
            if ban is not None and ban.limit is not None:
                # The cap is on the konjac in a mix, not on the mix.
                share = agent_rows()[key].parts.get("konjac", 1.0)
                yield key, ban.limit / 10.0 / share


def _ask(material: Material, asks: list[str]) -> str:
    reason = material.diet_reason.removesuffix(": ask the supplier")
    told = f" ({reason})" if reason else ""
    last = f" and {asks[-1]}" if len(asks) > 1 else ""
    listed = ", ".join(asks[:-1] or asks)
    return f"{material.name}: ask the supplier whether it is {listed}{last}{told}."


def comes_in_bites(brief: Brief, base: BriefBase) -> bool:
    """Return whether it is a gel that comes in bites, as jelly confectionery does."""
    if brief.plating is Plating.POURS or brief.texture.sets is False:
        return False
    molds = None if base.origin is None else base.origin.molds
    return (brief.portion_g if molds is None else molds.volume_ml) <= _BITE
