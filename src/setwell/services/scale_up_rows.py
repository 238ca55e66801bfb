"""A process at two sizes beside each other, in words."""

from dataclasses import dataclass

from setwell.engine.assessment import Figure
from setwell.engine.heat.results import Advice, Moment, PotResult
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate
from setwell.services.process import ProcessAnswer
from setwell.units import mass_print, time_print, time_range_print

_VERDICTS = {Verdict.YES: "yes", Verdict.NO: "no", Verdict.CANNOT_TELL: "cannot tell"}
_NEVER = "not within the time shown"
_NONE = "not computed"
# Steam that differs by more than this share of the batch changes what is made.
_STEAM_PCT = 1.0


@dataclass(frozen=True, slots=True)
class SizeRow:
    """One thing at the size of the formula and at the new one; `group` is pot, cold or end."""

    group: str
    label: str
    before: str
    after: str


def size_rows(before: ProcessAnswer, after: ProcessAnswer) -> tuple[SizeRow, ...]:
    """Return what changes with the size, in the order of the work."""
    rows = [*_pot_rows(before.pot, after.pot), *_cold_rows(before, after)]
    told = [_ready(one) for one in (before, after)]
    if any(told):
        rows.append(SizeRow("end", "Ready to serve after", told[0] or _NONE, told[1] or _NONE))
    return tuple(rows)


def _ready(answer: ProcessAnswer) -> str:
    line = answer.timeline
    return time_print(line.ready.value) if line.stages else ""


def _pot_rows(before: PotResult | None, after: PotResult | None) -> list[SizeRow]:
    if before is None and after is None:
        return []
    rows = [
        SizeRow("pot", "In the pot", _mass(before), _mass(after)),
        SizeRow("pot", "How deep it stands", _depth(before), _depth(after)),
    ]
    either = after or before
    for moment in either.moments if either else ():
        rows.append(_moment_row("pot", moment, *(_of(one, moment.key) for one in (before, after))))
    rows.append(SizeRow("pot", "Steam", _steam(before), _steam(after)))
    for agent in either.agents if either else ():
        told = [_hydrates(one, agent.key) for one in (before, after)]
        rows.append(SizeRow("pot", f"{agent.name} hot long enough everywhere", *told))
    return rows


def _of(pot: PotResult | None, key: str) -> Moment | None:
    return None if pot is None else next((one for one in pot.moments if one.key == key), None)


def _cold_rows(before: ProcessAnswer, after: ProcessAnswer) -> list[SizeRow]:
    either = after.cooling or before.cooling
    if either is None:
        return []
    counts = [
        str(one.plan.plan.cooling.count) if one.plan.plan.cooling else _NONE
        for one in (before, after)
    ]
    rows = [SizeRow("cold", "Molds at once", *counts)]
    for moment in either.moments:
        found = [one.cooling.moment(moment.key) if one.cooling else None for one in (before, after)]
        rows.append(_moment_row("cold", moment, *found))
    return rows


def _moment_row(group: str, moment: Moment, before: Moment | None, after: Moment | None) -> SizeRow:
    return SizeRow(group, moment.label, _when(before), _when(after))


def _when(moment: Moment | None) -> str:
    if moment is None:
        return _NONE
    if moment.estimate is None:
        return _NEVER
    return minutes_words(moment.estimate)


def minutes_words(minutes: Estimate) -> str:
    """Return a time with its range."""
    if minutes.low is None or minutes.high is None:
        return time_print(minutes.value)
    return f"{time_print(minutes.value)} ({time_range_print(minutes.low, minutes.high)})"


def _figure(pot: PotResult | None, key: str) -> Figure | None:
    return None if pot is None else next((one for one in pot.figures if one.key == key), None)


def _mass(pot: PotResult | None) -> str:
    found = _figure(pot, "mass")
    return _NONE if found is None else mass_print(found.estimate.value)


def _depth(pot: PotResult | None) -> str:
    found = _figure(pot, "depth")
    if found is None:
        return _NONE
    millimeters = found.estimate.value
    return f"{millimeters:.0f} mm ({millimeters / 25.4:.1f} in)"


def steam_pct(pot: PotResult | None) -> float | None:
    """Return which share of what stands in the pot leaves as steam [%]."""
    found = _figure(pot, "mass")
    if pot is None or found is None or not found.estimate.value:
        return None
    return 100.0 * pot.evaporated_g.value / found.estimate.value


def _steam(pot: PotResult | None) -> str:
    share = steam_pct(pot)
    if pot is None or share is None:
        return _NONE
    return f"{mass_print(pot.evaporated_g.value)}, {share:.1f} %"


def _hydrates(pot: PotResult | None, key: str) -> str:
    found = next((one for one in pot.agents if one.key == key), None) if pot else None
    return _NONE if found is None else _VERDICTS[found.hydrates]


def steam_words(
    before: PotResult | None, after: PotResult | None, each_g: float, batches: int
) -> str:
    """Say what the other loss of steam means for a batch; empty where it is the same."""
    small, large = steam_pct(before), steam_pct(after)
    if small is None or large is None or abs(small - large) < _STEAM_PCT:
        return ""
    water = abs(small - large) / 100.0 * each_g
    each = "" if batches == 1 else " in each batch"
    if small > large:
        return (
            f"A larger pot steams less: {large:.1f} % instead of {small:.1f} %. To end as strong "
            f"as the small batch, weigh in about {mass_print(water)} less liquid{each}, or "
            "weigh the pot and let it steam on."
        )
    return (
        f"This pot steams more: {large:.1f} % instead of {small:.1f} %. Weigh the pot before and "
        f"after, and make up about {mass_print(water)} with hot water{each}."
    )


def new_advice(before: ProcessAnswer, after: ProcessAnswer) -> tuple[Advice, ...]:
    """Return what has to be watched at the new size, and had not to at the old one."""
    known = {
        one.code for part in (before.pot, before.cooling) if part is not None for one in part.advice
    }
    told = [one for part in (after.pot, after.cooling) if part is not None for one in part.advice]
    return tuple(one for one in told if one.code not in known)
