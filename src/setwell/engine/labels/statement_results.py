"""What an ingredient statement says: typed, read-only results."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from setwell.domain.brief import Market
from setwell.engine.assessment import DietResult, Finding, Severity
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate, Evidence, Grade, grade_worst

DRAFT = "Draft, to be checked by a qualified person"


@dataclass(frozen=True, slots=True)
class LabelChoices:
    """What the kitchen says about its label, beyond the formula.

    `wordings` are names typed in place of ours, with the ingredients of a bought thing in
    brackets, by the key of the ingredient; `species` by allergen ("fish": "cod"); `cleared` are
    keys of questions the kitchen has settled by its suppliers' labels; `emphasized` are
    ingredients that words or pictures dwell on; `minor_pct` None lists all by weight; `by_number`
    prints E numbers in place of names; `shares_shown` are names that get their share beside them.
    """

    may_contain: str = ""
    wordings: Mapping[str, str] = field(default_factory=dict)
    species: Mapping[str, str] = field(default_factory=dict)
    cleared: frozenset[str] = frozenset()
    emphasized: tuple[str, ...] = ()
    minor_pct: float | None = 2.0
    by_number: bool = False
    shares_shown: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Question:
    """Something only a supplier's label can settle; put its key among the cleared ones then."""

    key: str
    text: str
    lines: tuple[int, ...]
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a statement; an emphasized one names an allergen (print it bold)."""

    text: str
    is_emphasized: bool = False


@dataclass(frozen=True, slots=True)
class ListedIngredient:
    """One name in the list, with the ingredients it is made of where it is compound.

    `key` is what the choices of a label call it (one of several names joined); `name` is the
    label name without class and number; `grams` are in the batch as the market
    counts them (US as added, EU with water as it is in the finished food), and `percent` is of
    the finished weight. `allergens` are the words that have to be told with this name;
    `lists_parts` is True for a bought thing whose own ingredients still have to follow.
    """

    key: str
    name: str
    grams: float
    percent: float
    lines: tuple[int, ...]
    additive_class: str = ""
    e_numbers: tuple[str, ...] = ()
    allergens: tuple[str, ...] = ()
    parts: tuple["ListedIngredient", ...] = ()
    check: str = ""
    lists_parts: bool = False
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class DeclaredAllergen:
    """A listed allergen; `certainty` is "contains", or "check" while the supplier decides."""

    key: str
    name: str
    certainty: str
    lines: tuple[int, ...]
    materials: tuple[str, ...]
    species_missing: bool = False
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class ThresholdSum:
    """Sulfites or gluten added up over the ingredients, against the limit of the market.

    `reaches` is yes when the limit is surely reached, no when surely not, else cannot tell;
    what cannot be told is declared. `amount` is in mg per kg of the finished food; its high side
    is None where an ingredient has no figure. `source_keys` are the materials told by name.
    """

    substance: str
    amount: Estimate
    limit_mg_kg: float
    reaches: Verdict
    is_declared: bool
    sources: tuple[str, ...]
    unknown_in: tuple[str, ...]
    lines: tuple[int, ...]
    text: str
    source_keys: frozenset[str] = frozenset()
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class QuidCandidate:
    """An ingredient whose share the EU may want beside its name, and why."""

    name: str
    percent: float
    wording: str
    reason: str
    lines: tuple[int, ...]
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class AddedWater:
    """Water that counts as an ingredient in the EU: finished weight less everything else."""

    grams: float
    percent: float
    is_listed: bool
    text: str
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class AdditiveFinding:
    """One additive, or a group that counts together, against one rule of one market.

    `allowed` is yes, no, or cannot tell where no figure is known; `dose_mg_kg` and
    `limit_mg_kg` are per kg of the finished food. `rule` names law, section and edition.
    """

    market: Market
    category: str
    names: tuple[str, ...]
    e_numbers: tuple[str, ...]
    allowed: Verdict
    severity: Severity
    dose_mg_kg: float
    limit_mg_kg: float | None
    text: str
    action: str
    rule: str
    lines: tuple[int, ...]
    evidence: Evidence

    @property
    def grade(self) -> Grade:
        """How far the rule as written here can be trusted."""
        return grade_worst(citation.grade for citation in self.evidence)


@dataclass(frozen=True, slots=True)
class Statement:
    """The ingredient statement of one formula for one market, with all that goes with it.

    `minor` are the names behind the `minor_phrase` (US, "Contains 2% or less of"). `contains` is
    the US allergen line, empty in the EU, where `runs` emphasize. `may_contain` is the kitchen's
    own note. `questions` are open until the kitchen clears them; `findings` are things to check;
    `blocks` say what keeps it from being final.
    """

    market: Market
    category: str
    title: str
    ingredients: tuple[ListedIngredient, ...]
    minor: tuple[ListedIngredient, ...]
    minor_phrase: str
    runs: tuple[Run, ...]
    allergens: tuple[DeclaredAllergen, ...]
    contains: str
    may_contain: str
    sulfites: ThresholdSum
    gluten: ThresholdSum
    alcohol: Finding | None
    added_water: AddedWater | None
    quid: tuple[QuidCandidate, ...]
    additives: tuple[AdditiveFinding, ...]
    diets: tuple[DietResult, ...]
    questions: tuple[Question, ...]
    findings: tuple[Finding, ...]
    blocks: tuple[str, ...]
    evidence: Evidence
    draft_note: str = DRAFT

    @property
    def text(self) -> str:
        """The whole list as one plain line."""
        return "".join(run.text for run in self.runs)

    @property
    def is_final(self) -> bool:
        """True when nothing known stands against it; a qualified person still has to check."""
        return not self.blocks

    @property
    def grade(self) -> Grade:
        """The worst grade of what went in."""
        return grade_worst(citation.grade for citation in self.evidence)
