"""Dose outside the usual range; ions that an agent misses."""

from collections.abc import Iterable

from setwell.engine.alcohol_reach import NO_LAW_ABV
from setwell.engine.assessment import Severity
from setwell.engine.rules.bench import PRACTICE, Bench, Hit
from setwell.errors import MissingDataError
from setwell.tables.agents import agent_rows

# Below this kappa sets soft and cool (own judgment from the setting line; mmol/kg as potassium).
_LITTLE_POTASSIUM = 25.0
_LITTLE_CALCIUM = 1.0
# What these are told to stand (recalled) [% by volume].
_STANDS_ABV = {"gelatin": 25.0, "gelatin_fish_cold": 25.0, "sodium_alginate": 18.0}
# A dose on the edge of the range is inside it, whatever its last binary digit.
_LEAST, _MOST = 1.0 - 1e-6, 1.0 + 1e-6


def dose_range(bench: Bench) -> Iterable[Hit]:
    """Say when a dose is outside what the chart calls usable."""
    for key, dose in bench.state.doses_pct.items():
        try:
            usual = agent_rows()[key].figure("dose")
        except MissingDataError:
            continue
        name, lines = bench.name(key), bench.lines_of(key)
        evidence = (usual.citation,)
        if usual.low is not None:
            yield Hit(
                "dose_low", Severity.WARN, (dose < usual.low * _LEAST) & (dose > 0),
                lambda row, name=name, dose=dose, low=usual.low, high=usual.high: (  # type: ignore[misc]
                    f"{name}: dose below the usual range",
                    f"{dose[row]:.3g} % of the finished batch; usual is {low:g} to {high:g} %.",
                    f"For {low:g} % weigh {_grams(bench, row, low)}."),
                lines, (), evidence,
            )  # fmt: skip
        if usual.high is not None:
            yield Hit(
                "dose_high", Severity.WARN, dose > usual.high * _MOST,
                lambda row, name=name, dose=dose, low=usual.low, high=usual.high: (  # type: ignore[misc]
                    f"{name}: dose above the usual range",
                    f"{dose[row]:.3g} % of the finished batch; usual is {low:g} to {high:g} %. "
                    "Is the decimal point right?",
                    f"For {high:g} % weigh {_grams(bench, row, high)}."),
                lines, (), evidence,
            )  # fmt: skip


def _grams(bench: Bench, row: int, percent: float) -> str:
    return f"{bench.state.composition.finished_g[row] * percent / 100.0:.3g} g"


def gelling_ions(bench: Bench) -> Iterable[Hit]:
    """Say when kappa lacks potassium or iota calcium."""
    # The gum's own ions set it too, but a cook can only change what comes with the food.
    ions = bench.state.salts
    if "kappa_carrageenan" in bench.agents:
        little = ions["potassium"].value + 0.3 * ions["calcium"].value
        yield Hit(
            "little_potassium", Severity.NOTE, little < _LITTLE_POTASSIUM,
            lambda row: (
                "Little potassium for kappa",
                f"About {ions['potassium'].value[row]:.0f} mmol potassium per kg of water "
                "from the food: kappa then sets cooler and softer.",
                "If it is too soft, 0.1 to 0.25 % potassium chloride helps; it can taste bitter."),
            bench.lines_of("kappa_carrageenan"), (), PRACTICE,
        )  # fmt: skip
    if "iota_carrageenan" in bench.agents:
        calcium = ions["calcium"]
        yield Hit(
            "little_calcium", Severity.NOTE, calcium.value < _LITTLE_CALCIUM,
            lambda row: (
                "Little calcium for iota",
                f"About {calcium.value[row]:.1f} mmol calcium per kg of water from the food; iota "
                "gels best with some.",
                "If it stays loose, 0.05 to 0.1 % calcium lactate helps."),
            bench.lines_of("iota_carrageenan"), (), PRACTICE,
        )  # fmt: skip


def strong_alcohol(bench: Bench) -> Iterable[Hit]:
    """Say when there is more alcohol than a gel stands, or than any law reaches to."""
    strength = bench.state.water.alcohol_by_volume
    for key in bench.agents:
        name, least = bench.name(key), _STANDS_ABV.get(key)
        weakens = f"{name} weakens or drops out from somewhere between 20 and 40 %."
        unknown = (
            f"no law here tells of {name} above {NO_LAW_ABV:g} %: it may not swell, or drop out. "
            "The texture below is that of a weaker drink."
        )
        said = unknown if least is None else weakens
        yield Hit(
            "strong_alcohol", Severity.WARN,
            strength.high > least if least is not None else strength.value > NO_LAW_ABV,
            lambda row, name=name, said=said: (  # type: ignore[misc]
                f"{name}: strong alcohol",
                f"About {strength.value[row]:.0f} % vol; {said}",
                "Dilute, or hydrate in the water part first and add the spirit last."),
            bench.lines_of(key), (), PRACTICE,
        )  # fmt: skip
