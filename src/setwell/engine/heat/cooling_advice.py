"""What is wrong with a cooling, or could go better, and what to do."""

from setwell.domain.equipment import CoolerKind
from setwell.engine.heat.cold_faces import STEAM_COUNTS
from setwell.engine.heat.cooling_cases import air_doubt
from setwell.engine.heat.cooling_moments import COLD_C, HOT_C, WARM_C, minutes_from_hot
from setwell.engine.heat.cooling_setup import CoolingSetup
from setwell.engine.heat.course import Course
from setwell.engine.heat.freezing_course import freezes
from setwell.engine.heat.mold_form import SHAPE_ASSUMED
from setwell.engine.heat.results import Advice
from setwell.engine.heat.setting_levels import (
    SettingLevel,
    practice_level,
    sets_otherwise,
    setting_levels,
)
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.units import temperature_change_print, temperature_print, time_print

# Limits on the way from 57 °C, in minutes (U.S. Food Code 3-501.14): a hint here, judged elsewhere.
_TO_WARM_MIN, _TO_COLD_MIN = 120.0, 360.0
# A pour this close to the setting temperature sets at the wall while it is poured [K].
_POUR_ROOM_K = 5.0
# A wall that holds back more than the bath passes is worth a word.
_WALL_COUNTS = 1.0


def cooling_advice(
    bench: Bench, setup: CoolingSetup, core: Course, row: int = 0
) -> tuple[Advice, ...]:
    """Return what to say of one candidate; what stops it comes first."""
    levels = setting_levels(bench, row)
    seen = practice_level(bench, row)
    found = [
        *(_never_sets(setup, level) for level in levels),
        *(_pour_too_cold(setup, level, seen) for level in levels[:1]),
        None if levels else _nothing_sets(bench, row),
        _never_cold(setup),
        _slow(core),
        _freezes(setup),
        _wall(setup),
        _steam(setup),
        _pour_assumed(setup),
        _shape(setup),
    ]
    told = [one for one in found if one is not None]
    return tuple(sorted(told, key=lambda one: not one.is_stop))


def _never_sets(setup: CoolingSetup, level: SettingLevel) -> Advice | None:
    place, sets = setup.cold.cooler, level.celsius
    air = setup.final_air_c
    if air >= sets.high:
        text = (
            f"{place.name} is at {temperature_print(air)}, above the setting temperature of "
            f"{level.name}, {temperature_print(sets.value)}: it will never set here."
        )
        action = f"Use a place below {temperature_print(sets.low)}."
        return Advice("never_sets", text, action, is_stop=True, evidence=level.evidence)
    if air + air_doubt(setup.cold) < sets.low:
        return None
    text = (
        f"{place.name} is at {temperature_print(air)}, and {level.name} sets somewhere from "
        f"{temperature_print(sets.low)} to {temperature_print(sets.high)}: it may not set here."
    )
    action = f"Use a place below {temperature_print(sets.low)}, or try one mold first."
    is_stop = air >= sets.value
    return Advice("may_not_set", text, action, is_stop=is_stop, evidence=level.evidence)


def _pour_too_cold(
    setup: CoolingSetup, level: SettingLevel, seen: SettingLevel | None
) -> Advice | None:
    pour, sets = setup.start_c, level.celsius
    warmest = sets.high if seen is None else seen.celsius.high
    if pour > sets.high + _POUR_ROOM_K:
        return None if seen is None else _seen_to_set(setup, seen)
    if pour <= sets.low:
        text = (
            f"Poured at {temperature_print(pour)}, {level.name} has set before, at "
            f"{temperature_print(sets.value)}: the pour tears the gel."
        )
        action = f"Pour above {temperature_print(warmest + _POUR_ROOM_K)}."
        return Advice("sets_before_pouring", text, action, is_stop=True, evidence=level.evidence)
    text = (
        f"Poured at {temperature_print(pour)}, it is only just above where {level.name} sets, "
        f"{temperature_print(sets.value)}: it may set at cold walls while it is poured."
    )
    action = f"Pour above {temperature_print(warmest + _POUR_ROOM_K)}, or warm the molds."
    return Advice("sets_while_pouring", text, action, evidence=level.evidence)


def _seen_to_set(setup: CoolingSetup, seen: SettingLevel) -> Advice | None:
    """Say that kitchens see it begin to set warmer than the law of its ions has it."""
    if setup.start_c > seen.celsius.high + _POUR_ROOM_K:
        return None
    text = (
        f"Kitchens see {seen.name} begin to set around {temperature_print(seen.celsius.value)} in "
        f"rich bases, warmer than computed: poured at {temperature_print(setup.start_c)} it may "
        "set at cold walls while it is poured."
    )
    action = f"Pour above {temperature_print(seen.celsius.high + _POUR_ROOM_K)}, or warm the molds."
    return Advice("sets_while_pouring", text, action, evidence=seen.evidence)


def _nothing_sets(bench: Bench, row: int) -> Advice:
    if sets_otherwise(bench, row):
        text = "What sets it is not the cold: it sets on heating or with ions, so no setting time."
        return Advice("sets_otherwise", text, "Cold counts for keeping and serving only.")
    text = "Nothing in this formula sets on cooling: it gets cold and stays as thick as it is."
    return Advice("nothing_sets", text, "Add an agent that sets on cooling if it should hold.")


def _never_cold(setup: CoolingSetup) -> Advice | None:
    air, place = setup.final_air_c, setup.cold.cooler
    if air < COLD_C:
        return None
    text = (
        f"{place.name} is at {temperature_print(air)}: the food never gets down to "
        f"{temperature_print(COLD_C)} here."
    )
    if place.kind is CoolerKind.COUNTER:
        action = (
            "Move it to a cold place in time: below 21 °C (70 °F) within 2 h of 57 °C (135 °F)."
        )
    else:
        action = "Set it to 4 °C (39 °F) or lower, and check it with a thermometer."
    return Advice("never_cold", text, action)


def _slow(core: Course) -> Advice | None:
    """Say early that a mold is too thick for its place; the rules themselves are judged apart."""
    if float(core.celsius[0]) <= HOT_C:
        return None
    warm, _, late_warm = minutes_from_hot(core, WARM_C)
    cold, _, late_cold = minutes_from_hot(core, COLD_C)
    is_late = any(
        one is None or one > most
        for one, most in ((late_warm, _TO_WARM_MIN), (late_cold, _TO_COLD_MIN))
    )
    if not is_late or warm is None:
        return None
    until = "" if cold is None else f" and {time_print(cold)} to {temperature_print(COLD_C)}"
    text = (
        f"From {temperature_print(HOT_C)} the core takes about {time_print(warm)} to "
        f"{temperature_print(WARM_C)}{until}. Food that must be chilled is usually allowed 2 h "
        "and 6 h in all."
    )
    action = "Fill lower or smaller molds, start in an ice bath, or use a blast chiller."
    return Advice("cools_slowly", text, action, evidence=PRACTICE)


def _freezes(setup: CoolingSetup) -> Advice | None:
    freezing = setup.stuff.freezing_c
    air = setup.final_air_c
    if freezing is None or air >= freezing:
        return None
    where = f"{setup.cold.cooler.name} is at {temperature_print(air)}; this food begins to freeze"
    if freezes(setup):
        text = f"{where} at {temperature_print(freezing)}, so it freezes if it stays in."
    else:
        text = (
            f"{where} at {temperature_print(freezing)}. The course is followed down to there: its "
            "skin may freeze if it stays in."
        )
    return Advice("freezes", text, "Take it out when it is set, unless it should freeze.")


def _wall(setup: CoolingSetup) -> Advice | None:
    wall = setup.wall
    if wall is None or wall.resistance * setup.usual["side"] < _WALL_COUNTS:
        return None
    text = (
        f"The {wall.material.value} wall holds back more heat than the "
        f"{setup.cold.cooler.kind.value} could take: the wall sets the pace."
    )
    return Advice(
        "wall_holds_back", text, "A thin metal mold cools much faster here.", evidence=wall.evidence
    )


def _steam(setup: CoolingSetup) -> Advice | None:
    if setup.cold.steam_share < STEAM_COUNTS or setup.start_c < 40.0:
        return None
    text = (
        "The open top gives off steam, which carries up to "
        f"{100 * setup.cold.steam_share:.0f} % of its heat at first; it is counted, with a wide "
        "range, because a skin or neighbors hold it back."
    )
    action = "Covered, it cools slower and loses no water: say so with a lid."
    return Advice("open_top", text, action, evidence=PRACTICE)


def _pour_assumed(setup: CoolingSetup) -> Advice | None:
    if not setup.pour.is_assumed:
        return None
    half = temperature_change_print(setup.pour.half_width)
    text = (
        f"No step says how hot it is poured: {temperature_print(setup.start_c)} is assumed, "
        f"plus or minus {half}."
    )
    return Advice("pour_assumed", text, "Give the pouring temperature.", evidence=PRACTICE)


def _shape(setup: CoolingSetup) -> Advice | None:
    if SHAPE_ASSUMED not in setup.mold.flags:
        return None
    text = "The shape of the mold is not known: a cylinder as high as it is wide is assumed."
    action = "Give the shape and the lengths; a flat mold cools much faster."
    return Advice("shape_assumed", text, action)
