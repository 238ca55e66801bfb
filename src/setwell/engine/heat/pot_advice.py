"""What is wrong with a pot or could go better, and what to do."""

from collections.abc import Iterable, Iterator

import numpy as np

from setwell.domain.process_plan import PotStirring
from setwell.engine.heat.pot_cases import PRACTICE
from setwell.engine.heat.pot_setup import PotTask
from setwell.engine.heat.pot_track import PotTrack
from setwell.engine.heat.results import Advice, AgentHeating
from setwell.engine.rules.bench import Bench
from setwell.engine.verdict import Verdict
from setwell.units import duration_print, mass_print, temperature_change_print, temperature_print

# A pot is full with this share of its height left [-].
_HEADROOM = 0.1
# A difference that matters, and one at which milk and starch catch [K].
_UNEVEN_K, _CATCHES_K = 5.0, 10.0
# A recipe that says 100 °C means the boil [K].
_BOILS_OVER_K = 1.0
# Less than this share of a hob is no advice [-].
_LEAST_POWER = 0.2
_STILL = frozenset({PotStirring.NONE, PotStirring.OCCASIONAL})
# Shares of the batch that leave as steam: worth a word, and a pot that may run dry.
_MUCH_LOST, _DRY = 0.15, 0.5
# Evaporation that is off by this share of the batch changes the formula [-].
_OFF = 0.015
# From here vapor of spirits matters [% vol].
_SPIRITED = 5.0


def pot_advice(
    task: PotTask, track: PotTrack, agents: tuple[AgentHeating, ...], regime: str
) -> tuple[Advice, ...]:
    """Return everything to say, what stops the pot first."""
    found: list[Advice] = []
    for part in (
        _room_in_pot(task),
        _too_weak(task, track),
        _above_boiling(task),
        _uneven(track, agents, regime),
        _catches(task, track),
        _loses(task, track),
        _steam(task, track),
        _spirits(task.bench, task.row),
    ):
        found += part
    return tuple(sorted(found, key=lambda one: not one.is_stop))


def _room_in_pot(task: PotTask) -> Iterator[Advice]:
    height = task.plan.height_mm
    depth = 1000.0 * task.depth
    if height is None or depth <= height * (1.0 - _HEADROOM):
        return
    fits = task.mass_kg * 1000.0 * height * (1.0 - _HEADROOM) / depth
    yield Advice(
        "does_not_fit",
        f"{mass_print(1000.0 * task.mass_kg)} stand {depth:.0f} mm high in this pot, which is "
        f"{height:g} mm.",
        f"Take a larger pot, or at most {mass_print(fits)}.",
        is_stop=depth > height,
        evidence=PRACTICE,
    )


def _too_weak(task: PotTask, track: PotTrack) -> Iterator[Advice]:
    if np.isfinite(track.reads[0]):
        return
    ends = float(track.zones[0][-1, 0])
    is_held = task.plan.stirring is PotStirring.OCCASIONAL and ends >= task.target_c - 1.0
    if is_held:
        return
    followed = duration_print(round(float(track.seconds[-1]) / 60.0))
    yield Advice(
        "too_weak",
        f"The pot does not reach {temperature_print(task.target_c)}: after {followed} it reads "
        f"about {temperature_print(round(ends))}.",
        "Use a stronger hob or a smaller batch"
        + (" with the lid on." if task.plan.lid else ", and put a lid on."),
        is_stop=not np.isfinite(track.reads).any(),
    )


def _above_boiling(task: PotTask) -> Iterator[Advice]:
    if task.asked_c <= task.boiling_c + _BOILS_OVER_K:
        return
    yield Advice(
        "above_boiling",
        f"It boils at {temperature_print(round(task.boiling_c, 1))} and gets no hotter than that; "
        f"{temperature_print(task.asked_c)} cannot be had in an open pot.",
        "Boil it, or boil water off until the sugar raises the boiling point.",
    )


def _uneven(track: PotTrack, agents: tuple[AgentHeating, ...], regime: str) -> Iterator[Advice]:
    bottom, coldest = (float(track.at_end(t)[0]) for t in (track.zones[0], track.coldest))
    if bottom - coldest < _UNEVEN_K or track.stirring not in _STILL:
        return
    waits = [one.name for one in agents if one.hydrates is not Verdict.YES]
    why = f" {', '.join(waits)} may not dissolve there." if waits else ""
    yield Advice(
        "uneven",
        f"When the bottom reads {temperature_print(round(bottom))}, the coldest part is at about "
        f"{temperature_print(round(coldest))}; the difference is good to ±40 %.{why}",
        "Stir all the time, bring it to a boil, put a lid on or heat a thinner layer.",
        evidence=PRACTICE,
    )
    if regime != "convection" or track.stirring is PotStirring.NONE:
        yield Advice(
            "no_more_power",
            "Turning up the hob will not help: it makes the bottom hotter, not the top.",
            "Stir, or give it time.",
        )


def _catches(task: PotTask, track: PotTrack) -> Iterator[Advice]:
    hottest = float(track.base[track.seconds <= track.last[0] + 1.0, 0].max())
    above = hottest - task.target_c
    if above <= _CATCHES_K or not _may_catch(task.bench):
        return
    yield Advice(
        "scorch",
        f"At full power the base gets about {temperature_change_print(round(above))} hotter than "
        f"the {temperature_print(task.target_c)} that the thermometer shows; milk and starch catch "
        "there.",
        _gentler(task, track),
        evidence=PRACTICE,
    )


def _gentler(task: PotTask, track: PotTrack) -> str:
    """Return what to do: the power that keeps the base within ten degrees, if that is practical."""
    # Bubbles cap how hot the base gets in the end; what power does to it shows on the way up.
    base = track.base[:, 0] - track.zones[1][:, 0]
    heating = track.seconds <= max(float(track.reads[0]), float(track.seconds[1]))
    widest = float(np.maximum(base[heating].max(), _CATCHES_K))
    # A boundary layer passes heat as the difference to the power 4/3, scraping in proportion.
    power = 4.0 / 3.0 if track.stirring in _STILL else 1.0
    gentle = task.plan.hob.power_w * (_CATCHES_K / widest) ** power
    if gentle < _LEAST_POWER * task.plan.hob.power_w:
        return "Take much less power, use a pot with a thick base, and scrape it all the time."
    return f"Take about {50.0 * round(gentle / 50.0):.0f} W and scrape the base all the time."


def _may_catch(bench: Bench) -> bool:
    milk = float(bench.state.water.milk_protein_share[0]) > 0.0
    return milk or any(key.startswith("starch") for key in bench.agents)


def _loses(task: PotTask, track: PotTrack) -> Iterator[Advice]:
    vapor = track.at_end(track.vapor_kg)[0]
    lost = vapor / task.mass_kg
    if lost > _MUCH_LOST:
        water = float(task.bench.state.composition.share("water_g")[task.row])
        yield Advice(
            "boils_dry" if lost > _DRY * water else "much_steam",
            f"About {100.0 * lost:.0f} % of what is in the pot leaves as steam.",
            "Put a lid on, hold shorter, or weigh the pot and top it up with water.",
            is_stop=lost > _DRY * water,
        )
    told = task.bench.formula.evaporation_pct / 100.0
    lost = vapor / task.whole_kg
    if abs(lost - told) > _OFF:
        yield Advice(
            "evaporation",
            f"The formula counts on {100.0 * told:.1f} % leaving as steam; this pot loses about "
            f"{100.0 * lost:.1f} % of the batch until it is done.",
            f"Set the evaporation of the formula to {100.0 * lost:.1f} %, or weigh the pot at the "
            "end and top it up.",
        )


def _spirits(bench: Bench, row: int) -> Iterator[Advice]:
    strength = float(bench.state.water.alcohol_by_volume.value[row])
    if strength < _SPIRITED:
        return
    yield Advice(
        "spirits",
        f"The batch has about {strength:.0f} % vol alcohol: it boils and steams off earlier than "
        "computed here, and its vapor can catch fire.",
        "Keep it away from flames, air the room, or add the spirits once it has cooled.",
        evidence=PRACTICE,
    )


def _steam(task: PotTask, track: PotTrack) -> Iterable[Advice]:
    added = 1000.0 * float(track.at_end(track.condensate_kg)[0])
    if track.stirring is not PotStirring.STEAM or added < 1.0:
        return
    yield Advice(
        "condensate",
        f"Live steam leaves about {mass_print(added)} of water in the pot "
        f"({100.0 * added / (1000.0 * task.mass_kg):.0f} % of the batch).",
        "Take that much water out of the formula.",
    )
