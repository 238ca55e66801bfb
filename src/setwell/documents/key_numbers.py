"""The few numbers a card prints, each with its range."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from setwell.documents.amounts import estimate_text, range_text
from setwell.engine.assessment import Assessment
from setwell.provenance import Estimate

# Keys of the solution figures worth a place on paper, in print order.
SOLUTION_KEYS = ("ph", "brix")


@dataclass(frozen=True, slots=True)
class CardNumber:
    """One number: value and range printed with the unit, and the grade behind it."""

    key: str
    label: str
    value: str
    range: str
    grade: str


def key_numbers(assessment: Assessment) -> tuple[CardNumber, ...]:
    """Return set and melt temperatures, pH, Brix and energy per portion."""
    return (*_gel_numbers(assessment), *_solution_numbers(assessment), *_energy(assessment))


def _gel_numbers(assessment: Assessment) -> Iterable[CardNumber]:
    for agent in assessment.agents:
        named = (
            ("set", f"{agent.name} sets", agent.set_temperature_c),
            ("practice_set", f"{agent.name} sets in practice", agent.practice_set_c),
            ("melt", f"{agent.name} melts", agent.melt_temperature_c),
        )
        for key, label, estimate in named:
            if estimate is not None:
                yield _number(f"{key}:{agent.key}", label, estimate)


def _solution_numbers(assessment: Assessment) -> Iterable[CardNumber]:
    for key in SOLUTION_KEYS:
        figure = assessment.figure(key)
        if figure is not None:
            yield _number(key, figure.label, figure.estimate)


def _energy(assessment: Assessment) -> Iterable[CardNumber]:
    figure = assessment.nutrient("energy_kcal")
    if figure is None:
        return
    grams = assessment.batch.portion_g
    label = "Energy per portion" if grams else "Energy per 100 g"
    share = _scaled(figure.per_100g, (grams or 100.0) / 100.0)
    yield _number("energy", label, share)


def _scaled(estimate: Estimate, factor: float) -> Estimate:
    return replace(
        estimate,
        value=estimate.value * factor,
        low=None if estimate.low is None else estimate.low * factor,
        high=None if estimate.high is None else estimate.high * factor,
        unit=estimate.unit.removesuffix("/100 g").removesuffix(" per 100 g"),
    )


def _number(key: str, label: str, estimate: Estimate) -> CardNumber:
    return CardNumber(
        key=key,
        label=label,
        value=estimate_text(estimate),
        range=range_text(estimate),
        grade=estimate.grade.value,
    )
