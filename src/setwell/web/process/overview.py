"""The process in four numbers, each with the place where it is explained."""

from dataclasses import dataclass

from setwell.provenance import Estimate
from setwell.services.process import ProcessAnswer
from setwell.units import time_print, time_range_print
from setwell.web.process.marks import ruling_icon, ruling_word


@dataclass(frozen=True, slots=True)
class Glance:
    """One number: where it is explained, what it is, and what it says."""

    place: str
    label: str
    said: str
    span: str = ""
    icon: str = ""


def overview(answer: ProcessAnswer) -> tuple[Glance, ...]:
    """Return when the pot is hot, when the molds are set, what is safe, and when it is ready."""
    found = []
    if answer.pot is not None:
        hot = {one.key: one for one in answer.pot.moments}.get("coldest")
        if hot is not None:
            found.append(_lasts("pot", "Hot all through", hot.estimate))
    if answer.cooling is not None:
        for key, label in (("set", "Set in the mold"), ("5", "Core at 5 °C (41 °F)")):
            moment = answer.cooling.moment(key)
            if moment is not None:
                found.append(_lasts("cooling", label, moment.estimate))
    word, icon = ruling_word(answer.ruling.value), ruling_icon(answer.ruling.value)
    is_computed = answer.ruling.value == "pass" and any(one.is_computed for one in answer.law)
    proof = "as computed: prove it with a probe" if is_computed else ""
    found.append(Glance("safety", "Safety", word, proof, icon))
    if answer.timeline.stages:
        found.append(_lasts("timeline", "Ready to serve", answer.timeline.ready))
    return tuple(found)


def _lasts(place: str, label: str, minutes: Estimate | None) -> Glance:
    """Return a time and its range; without a time it does not come about like this."""
    if minutes is None:
        return Glance(place, label, "not like this", "see there why")
    return Glance(
        place, label, time_print(minutes.value), time_range_print(minutes.low, minutes.high)
    )
