"""What a substitution comes to: typed, read-only results."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.formula import Formula
from setwell.engine.assessment import Caution, Finding
from setwell.engine.texture_results import Texture
from setwell.provenance import Estimate, Evidence


class Keep(StrEnum):
    """What the new dose holds on to, at serving temperature."""

    FIRMNESS = "firmness"
    BREAK = "break"
    THICKNESS = "thickness"
    SETTING = "setting"


@dataclass(frozen=True, slots=True)
class ValueChange:
    """One property before and after; `is_kept` is None where nothing can be said.

    What has no number stands in the texts.
    """

    code: str
    label: str
    before: Estimate | None
    after: Estimate | None
    before_text: str
    after_text: str
    is_kept: bool | None


@dataclass(frozen=True, slots=True)
class ProcessChange:
    """One point of the work at the stove, before and after."""

    code: str
    label: str
    before: str
    after: str
    is_changed: bool
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class StepChange:
    """One step beside its counterpart; `kind` is same, changed, added or removed."""

    kind: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Helper:
    """A salt that the new agent needs, as it is weighed, and why."""

    name: str
    grams: float
    percent: float
    reason: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing to know; `code` names what it is about."""

    code: str
    text: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Candidate:
    """An agent that could stand in, or one plain line why it falls out.

    `distance` grows with what changes besides the dose; our judgment, for the order only.
    """

    key: str
    name: str
    line_name: str
    is_possible: bool
    dose_pct: float | None
    reason: str
    helpers: tuple[str, ...]
    distance: float


@dataclass(frozen=True, slots=True)
class Swap:
    """The formula with the new agent, and everything that changes with it.

    `is_reached` is False where no dose keeps the target; the nearest dose then stands there.
    """

    name: str
    # The name as a line of the formula has it; empty where nothing comes instead.
    line_name: str
    is_reached: bool
    reason: str
    dose_g: Estimate | None
    dose_pct: Estimate | None
    formula: Formula
    after: Texture
    helpers: tuple[Helper, ...]
    values: tuple[ValueChange, ...]
    process: tuple[ProcessChange, ...]
    steps: tuple[StepChange, ...]
    remarks: tuple[Remark, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class Substitution:
    """What was asked, what is kept, and the answer: one swap, or agents to choose from."""

    formula: Formula
    replaced: str
    replaced_lines: tuple[int, ...]
    replaced_g: float
    keep: Keep
    target: Estimate | None
    before: Texture
    swap: Swap | None
    candidates: tuple[Candidate, ...]
