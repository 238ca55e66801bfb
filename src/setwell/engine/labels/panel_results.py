"""What a nutrition panel says: rows, columns, what is unknown and what keeps it a draft."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.provenance import Estimate, Evidence

DRAFT = "draft, to be checked by a qualified person"


class Form(StrEnum):
    """How an amount is shown."""

    VALUE = "value"
    ZERO = "zero"
    LESS_THAN = "less than"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Printed:
    """An amount as the label shows it.

    `value` is the number in the text, None where it is unknown or a "less than";
    `also_allowed` is another text that the rule allows, blank where there is none.
    """

    text: str
    form: Form
    value: float | None
    also_allowed: str = ""


@dataclass(frozen=True, slots=True)
class DailyShare:
    """Percent of the daily value (US) or of the reference intake (EU).

    `percent` is unrounded; `of` is what 100 % are, such as "78 g".
    """

    percent: float
    text: str
    of: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Between which amounts an analysis may fall without finding the label wrong.

    A side that the rule leaves open is None. `is_wide` is True where our own range goes past it:
    then only an analysis can tell.
    """

    low: float | None
    high: float | None
    text: str
    is_wide: bool
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class PanelColumn:
    """One column of amounts: "per serving", "per 100 g"; `grams` is what it holds."""

    key: str
    heading: str
    grams: float


@dataclass(frozen=True, slots=True)
class PanelCell:
    """One amount: unrounded with range and evidence, as shown, and its share of a day."""

    estimate: Estimate
    printed: Printed
    share: DailyShare | None = None


@dataclass(frozen=True, slots=True)
class PanelRow:
    """One nutrient; `cells` stand in the order of the columns of the panel.

    `unknown_in` names the ingredients without a figure that could change what is shown;
    `is_insignificant` tells that the amount is one the rule lets go as zero.
    """

    key: str
    label: str
    indent: int
    unit: str
    cells: tuple[PanelCell, ...]
    is_mandatory: bool
    is_insignificant: bool = False
    unknown_in: tuple[str, ...] = ()
    tolerance: Tolerance | None = None
    remark: str = ""

    @property
    def is_unknown(self) -> bool:
        """True where something unknown could change what is shown."""
        return bool(self.unknown_in)

    @property
    def evidence(self) -> Evidence:
        """The citations behind the amount."""
        return self.cells[0].estimate.evidence


@dataclass(frozen=True, slots=True)
class Blocker:
    """One reason why the panel cannot be final, and what to do about it."""

    code: str
    text: str
    action: str
    rows: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FiberFinding:
    """Whether the market counts what an ingredient brings as dietary fiber."""

    material: str
    is_counted: bool
    grams_per_100g: float
    text: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class ServingSize:
    """A serving: "1/2 cup (128 g)"; `grams` is the declared weight the amounts are for.

    `is_open` is True while the weight of a measure had to be guessed: `remark` says what to weigh.
    """

    text: str
    household: str
    metric: str
    grams: float
    reference_text: str
    is_open: bool
    remark: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class ContainerServings:
    """How many servings a container holds: "1", "about 3.5"; None where no container is known.

    `is_one_serving`: the whole container has to be labeled as one serving; `needs_two_columns`:
    amounts per serving and per container have to stand side by side.
    """

    exact: float
    text: str
    grams: float
    is_one_serving: bool
    needs_two_columns: bool
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class SimplifiedForm:
    """Whether the short panel is allowed, which rows it keeps, and the sentence below it."""

    is_allowed: bool
    insignificant: tuple[str, ...]
    kept: tuple[str, ...]
    sentence: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class UsPanel:
    """The panel of the US: amounts per serving, and per container where that is due."""

    serving: ServingSize
    container: ContainerServings | None
    columns: tuple[PanelColumn, ...]
    rows: tuple[PanelRow, ...]
    simplified: SimplifiedForm
    fiber: tuple[FiberFinding, ...]
    footnote: str
    notes: tuple[str, ...]
    blockers: tuple[Blocker, ...]
    evidence: Evidence
    status: str = DRAFT

    @property
    def is_final(self) -> bool:
        """True when nothing is missing; it still has to be checked by a qualified person."""
        return not self.blockers

    def row(self, key: str) -> PanelRow | None:
        """Return a row by its key, such as `fat`."""
        return next((row for row in self.rows if row.key == key), None)


@dataclass(frozen=True, slots=True)
class EuPanel:
    """The panel of the EU: amounts per 100 g or 100 ml, and per portion where one is given.

    `energy_kj` and `energy_kcal` are two rows, shown as one line.
    """

    columns: tuple[PanelColumn, ...]
    rows: tuple[PanelRow, ...]
    fiber: tuple[FiberFinding, ...]
    intake_sentence: str
    notes: tuple[str, ...]
    blockers: tuple[Blocker, ...]
    evidence: Evidence
    status: str = DRAFT

    @property
    def is_final(self) -> bool:
        """True when nothing is missing; it still has to be checked by a qualified person."""
        return not self.blockers

    def row(self, key: str) -> PanelRow | None:
        """Return a row by its key, such as `salt`."""
        return next((row for row in self.rows if row.key == key), None)
