"""What a set of agents asks of the pot together: who goes in how, how hot, and how cold."""

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from setwell.domain.brief import Brief, Helper, Plating
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.gelling.hydration_rate import kinetics
from setwell.engine.gelling.pair import pair_row
from setwell.engine.powder_handling import Family, family_of, hold_min
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.texture_ask import asks_for_liquid
from setwell.engine.rules.dispersion import needed_c
from setwell.tables.agents import agent_rows

FRIDGE_C, WARM_C, HOT_POWDER_C = 4.0, 25.0, 80.0
# Soaked gelatin melts here without losing strength, and never goes into more than this [°C].
MELT_IN_C, GELATIN_MOST_C = 60.0, 72.0
# Acid in at this temperature does little harm; a gel that sets sooner gets a little more [°C].
_LATE_C, _LATE_MOST_C, _ABOVE_SET_C = 60.0, 70.0, 5.0
# Pectin is boiled with its sugar (common practice) [°C].
_BOILED_C = 100.0
# Starch that only reaches its window thickens slowly; a margin over the hottest class [°C].
_MARGIN_C = 3.0
# Cold powders that gel together only once they have been hot (common practice).
_HOT_TOGETHER = (frozenset({"konjac", "xanthan"}),)
# Emulsifying starch, of which some grades want heat.
_OFTEN_HOT = frozenset({"starch_ocs_osa"})
# What the calcium of milk or hard water slows down, and how long that then takes at the least.
_CALCIUM_SLOWED, _CALCIUM_SLOWED_MIN = frozenset({"pectin_LM", "pectin_LMA", "gellan_LA"}), 5.0
_COOKS_MIN = 2.0
_SETTING_SALTS = frozenset({Helper.POTASSIUM_CHLORIDE.value, Helper.CALCIUM_LACTATE.value})
_GEL_KINDS = frozenset({"cold-set gel", "ion-set gel", "sugar-acid gel", "blend"})
# Much sugar or salt keeps powders from dissolving: the whole batch goes to a boil.
_CROWDED_C = 100.0


@dataclass(frozen=True)
class PotSet:
    """Some agents and helpers in one base, within the limits of one brief.

    `pour_c` is the least temperature to pour at, where it is known.
    """

    base: BriefBase
    brief: Brief
    agents: tuple[BlendAgent, ...]
    helpers: tuple[str, ...]
    pour_c: float | None = None

    @property
    def most_c(self) -> float:
        """How hot it may get."""
        return self.brief.limits.max_temperature_c

    @cached_property
    def soaked(self) -> tuple[BlendAgent, ...]:
        """Gelatins, which bloom."""
        return tuple(one for one in self.agents if family_of(one.key) is Family.SOAKED)

    @cached_property
    def ethers(self) -> tuple[BlendAgent, ...]:
        """Cellulose ethers, which dissolve only in the cold and set in the heat."""
        return tuple(one for one in self.agents if agent_rows()[one.key].kind == "heat-set gel")

    @cached_property
    def powders(self) -> tuple[BlendAgent, ...]:
        """Everything that is dispersed dry, but for starches that are cooked."""
        apart = {one.key for one in (*self.soaked, *self.ethers, *self.starches)}
        return tuple(one for one in self.agents if one.key not in apart)

    @cached_property
    def starches(self) -> tuple[BlendAgent, ...]:
        """Starches that go in as a slurry."""
        return tuple(one for one in self.agents if family_of(one.key) is Family.SLURRY)

    @cached_property
    def hot(self) -> tuple[BlendAgent, ...]:
        """Agents that have to get hot to work."""
        keys = {one.key for one in self.agents}
        together = {key for pair in _HOT_TOGETHER if pair <= keys for key in pair}
        if self.most_c >= HOT_POWDER_C:
            together |= keys & _OFTEN_HOT
        warm = {Family.SLURRY, Family.HOT}
        return tuple(a for a in self.agents if family_of(a.key) in warm or a.key in together)

    @property
    def base_c(self) -> float:
        """How hot the base itself has to get, within the limit; 0 where it need not."""
        return 0.0 if self.base.cooks_c is None else max(min(self.base.cooks_c, self.most_c), 0.0)

    @property
    def is_heated(self) -> bool:
        """True where anything has to get hot, gelatin apart."""
        return bool(self.hot) or self.base_c > 0.0

    @property
    def heat_c(self) -> float:
        """How hot the batch has to get, within the limit."""
        crowded = _CROWDED_C if self.base.is_crowded and self.hot else 0.0
        enough = (_enough_c(one.key) for one in self.hot)
        return min(max((self.base_c, crowded, *enough)), self.most_c)

    @property
    def hold_min(self) -> float:
        """How long it stays that hot."""
        slowed = [_CALCIUM_SLOWED_MIN for one in self.hot if one.key in _CALCIUM_SLOWED]
        cooked = [_COOKS_MIN] if self.base_c > 0.0 else []
        return max((*slowed, *cooked, *(hold_min(one.key) for one in self.hot)))

    @property
    def has_acid_early(self) -> bool:
        """True where the acid goes in with the base."""
        return bool(self.base.late_acids) and self.brief.limits.is_acid_hot

    @property
    def has_acid_late(self) -> bool:
        """True where the acid goes in at the end."""
        return bool(self.base.late_acids) and not self.brief.limits.is_acid_hot

    @property
    def takes_acid_hot(self) -> bool:
        """True where hot acid costs no agent its strength: pectin and gellan."""
        return bool(self.hot) and all(
            one.key.startswith(("pectin_", "gellan_")) for one in self.hot
        )

    @property
    def late_c(self) -> float:
        """How warm the batch is when the acid goes in late."""
        return min(max(_LATE_C, self._above_set_c), _LATE_MOST_C, self.most_c)

    @property
    def melt_in_c(self) -> float:
        """How warm the batch is when bloomed gelatin goes in."""
        return min(max(MELT_IN_C, self._above_set_c), GELATIN_MOST_C, self.most_c)

    @property
    def _above_set_c(self) -> float:
        """A little above where the hot agents usually set; salts raise that to its high end."""
        is_salted = bool(_SETTING_SALTS & set(self.helpers))
        sets = (_sets_c(one.key, is_high=is_salted) + _ABOVE_SET_C for one in self.hot)
        return max((self.pour_c or 0.0, *sets))

    @property
    def is_served_warm(self) -> bool:
        """True where it comes to the table warmer than a room."""
        return self.brief.serving_c > WARM_C

    @property
    def sets_cold(self) -> bool:
        """True where an agent makes its gel on cooling."""
        return bool(self.soaked) or any(
            agent_rows()[one.key].kind in _GEL_KINDS for one in self.agents
        )

    @property
    def has_alginate(self) -> bool:
        """True where drops may be set in a bath."""
        return any(one.key == "sodium_alginate" for one in self.agents)

    @property
    def citrate(self) -> bool:
        """True where a buffer binds the calcium first."""
        return Helper.TRISODIUM_CITRATE.value in self.helpers

    @property
    def vessel(self) -> str:
        """What it is poured into."""
        if self.is_liquid or not self.makes_gel:
            return "a clean container"
        return "cups" if self.brief.plating is Plating.SPOONS else "molds"

    @cached_property
    def is_liquid(self) -> bool:
        """True where the brief asks for a liquid."""
        return asks_for_liquid(self.brief)

    @property
    def makes_gel(self) -> bool:
        """True where an agent gels, or two thickeners gel together."""
        kinds = [agent_rows()[one.key].kind for one in self.agents]
        pairs = combinations((one.key for one in self.agents), 2)
        found = (pair_row(*pair) for pair in pairs)
        gels_together = any(one and "modulus_at_1pct" in one[0].figures for one in found)
        return gels_together or any("gel" in kind or kind == "blend" for kind in kinds)


def _enough_c(key: str) -> float:
    """Return the temperature at which an agent surely dissolves, or a starch is cooked."""
    if key.startswith("pectin_"):
        return _BOILED_C
    row = agent_rows()[key]
    cooked = row.properties.get("cook_temperature")
    if cooked:
        return cooked[0].value
    window = kinetics(key).window
    full = 0.0 if window is None else (window.full.high or window.full.value) + _MARGIN_C
    return max(needed_c(key), full)


def _sets_c(key: str, *, is_high: bool) -> float:
    """Return where an agent usually begins to set; 0 where it does not set on cooling."""
    found = agent_rows()[key].properties.get("setting_temperature", ())
    if not found:
        return 0.0
    return (found[0].high or found[0].value) if is_high else found[0].value
