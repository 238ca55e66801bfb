"""Laws of one agent read from a table: what a pair law asks of another dose, without closures."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import STIRRING_RATE, AgentState, Codes, Flow, Gel
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

# A pair counts as so much of one agent alone: tables reach this far above the highest dose.
REACH = 3.0
ONE_RATE: Array = np.array([STIRRING_RATE])


@dataclass(frozen=True, slots=True)
class ByDose:
    """One quantity over doses for each level of the helpers; rows of a call come level by level.

    `values` (levels, doses) stand at `logs` (doses,), the natural logs of the dose.
    """

    logs: Array
    values: Array

    def __call__(self, dose: Array) -> Array:
        """Return the quantity at doses (levels * m,) in percent."""
        levels = len(self.values)
        at = np.log(np.maximum(dose, 1e-9)).reshape(levels, -1)
        found = [np.interp(line, self.logs, row) for line, row in zip(at, self.values, strict=True)]
        return np.concatenate(found)


@dataclass(frozen=True, slots=True)
class GelByDose:
    """The gel at another working dose; the middle only, as a search needs it."""

    root_modulus: ByDose
    root_stress: ByDose
    strain: ByDose

    def __call__(self, dose: Spans) -> Gel:
        """Return the gel at working doses in percent."""
        return Gel(
            _alike(self.root_modulus(dose.value) ** 2),
            _alike(self.root_stress(dose.value) ** 2),
            _alike(self.strain(dose.value)),
        )


@dataclass(frozen=True, slots=True)
class SetsByDose:
    """Whether a gel forms at another working dose."""

    code: ByDose

    def __call__(self, dose: Spans) -> Codes:
        """Return the codes at working doses in percent."""
        return np.asarray(np.floor(self.code(dose.value) + 1e-9), dtype=np.int8)


@dataclass(frozen=True, slots=True)
class FlowByDose:
    """The flow at slow stirring at another working dose; the liquid is left out."""

    root_added: ByDose

    def __call__(self, dose: Spans) -> Flow:
        """Return what the dose adds to the viscosity at slow stirring."""
        added = self.root_added(dose.value) ** 2
        return Flow(_alike(added[:, None]), np.zeros(len(added)), ONE_RATE)


@dataclass(frozen=True, slots=True)
class DoseLaws:
    """What one agent does at other working doses; None where it has no such law."""

    gel: GelByDose | None
    sets: SetsByDose | None
    flow: FlowByDose | None


def dose_laws(state: AgentState, levels: int) -> DoseLaws:
    """Return the laws of an agent as tables; its rows are levels times doses, level by level."""
    count = len(state.sets)
    least = float(np.min(state.effective_pct.value.reshape(levels, -1)[:, 0]))
    most = REACH * float(np.max(state.effective_pct.value))
    doses = np.geomspace(max(least, 1e-6), max(most, 1e-5), count // levels)
    logs, asked = np.log(doses), Spans.exact(np.tile(doses, levels))

    def table(values: Array) -> ByDose:
        return ByDose(logs, np.nan_to_num(np.asarray(values, dtype=float)).reshape(levels, -1))

    gel = sets = flow = None
    if state.gel_at is not None:
        found = state.gel_at(asked)
        gel = GelByDose(
            table(np.sqrt(found.modulus.value)),
            table(np.sqrt(found.fracture_stress.value)),
            table(found.fracture_strain.value),
        )
    if state.sets_at is not None:
        sets = SetsByDose(table(state.sets_at(asked).astype(np.float64)))
    if state.flow_at is not None:
        flow = FlowByDose(table(np.sqrt(added_at_stirring(state.flow_at(asked)))))
    return DoseLaws(gel, sets, flow)


def added_at_stirring(flow: Flow) -> Array:
    """Return what the agents add to the viscosity at slow stirring [Pa·s]."""
    return np.asarray(np.maximum(flow.at(STIRRING_RATE).value - flow.base, 0.0))


def _alike(value: Array) -> Spans:
    return Spans(value, value, value)
