"""The draft of a label: panel, statement, and what still stands against it."""

from collections.abc import Iterator
from dataclasses import dataclass

from setwell.documents.label_eu import EuPanelText, eu_panel_text
from setwell.documents.label_panel import PanelFigure, panel_figures
from setwell.documents.label_statement import (
    LabelItem,
    LabelPoint,
    LabelQuantity,
    StatementText,
    additive_points,
    allergen_line,
    blocks,
    diet_line,
    items,
    quantities,
    question_point,
    statement_points,
    statement_text,
    threshold_line,
)
from setwell.documents.label_us import UsPanelText, us_panel_text
from setwell.domain.brief import Market
from setwell.engine.assessment import Severity
from setwell.engine.labels.panel_results import EuPanel, FiberFinding, UsPanel
from setwell.engine.labels.statement_results import Question, Statement
from setwell.engine.verdict import Verdict
from setwell.provenance import Evidence, evidence_join, grade_worst
from setwell.tables.labels.food_categories import OTHER

SHORT_HASH = 10
BANNER = "Draft, to be checked by a qualified person"
DEFERRAL = (
    "Setwell informs; it does not certify. Laws change, and many rules here are recalled: before "
    "anything is sold, a qualified person compares this with the law in force and with each "
    "supplier's papers."
)
COMPLETE = "Nothing that is known here stands against it. It stays a draft until it was checked."
_NO_CONTAINER = "How many servings a package holds is not known."
_GIVE_CONTAINER = "Give the weight in one package."
_NO_CATEGORY = (
    "The kind of food is not chosen, so nobody can say what its additives are limited to."
)
_CHOOSE_CATEGORY = "Choose the kind of food."
_WIDE = "An analysis may find it wrong"
MARKETS = {Market.US: "United States", Market.EU: "European Union"}


@dataclass(frozen=True, slots=True)
class Label:
    """Everything shown of one label, in words; figures keep their estimates.

    `blocks` says what keeps it from being final, `settled` which questions the kitchen answered;
    exactly one of `us` and `eu` is there.
    """

    title: str
    version_label: str
    content_hash: str
    kitchen_name: str
    market: Market
    market_name: str
    category: str
    serving: str
    banner: str
    deferral: str
    us: UsPanelText | None
    eu: EuPanelText | None
    statement: StatementText
    blocks: tuple[LabelPoint, ...]
    additives: tuple[LabelPoint, ...]
    findings: tuple[LabelPoint, ...]
    allergens: tuple[str, ...]
    thresholds: tuple[str, ...]
    quantities: tuple[LabelQuantity, ...]
    diets: tuple[str, ...]
    fiber: tuple[FiberFinding, ...]
    notes: tuple[str, ...]
    figures: tuple[PanelFigure, ...]
    items: tuple[LabelItem, ...]
    settled: tuple[LabelPoint, ...]
    remark: str
    evidence: Evidence

    @property
    def short_hash(self) -> str:
        """The first digits of the content hash, enough to tell versions apart."""
        return self.content_hash[:SHORT_HASH]

    @property
    def is_final(self) -> bool:
        """True when nothing known stands against it; a qualified person still has to check."""
        return not self.blocks

    @property
    def state(self) -> str:
        """One sentence on how far it is from final."""
        count = len(self.blocks)
        if not count:
            return COMPLETE
        return f"Not final: {count} {'point stands' if count == 1 else 'points stand'} against it."


@dataclass(frozen=True, slots=True)
class LabelHead:
    """What identifies a label: of which formula and version, from whom, for what."""

    title: str
    version_label: str
    content_hash: str
    kitchen_name: str
    category: str


def label_build(
    head: LabelHead,
    panel: UsPanel | EuPanel,
    statement: Statement,
    *,
    is_short: bool = False,
    settled: tuple[Question, ...] = (),
) -> Label:
    """Return the label in words.

    `is_short` asks for the simplified US panel; `settled` are questions the kitchen answered.
    """
    evidence = evidence_join((panel.evidence, statement.evidence))
    worst = grade_worst(citation.grade for citation in evidence)
    return Label(
        title=head.title,
        version_label=head.version_label,
        content_hash=head.content_hash,
        kitchen_name=head.kitchen_name,
        market=statement.market,
        market_name=MARKETS[statement.market],
        category=head.category,
        serving=panel.serving.text if isinstance(panel, UsPanel) else "",
        banner=BANNER,
        deferral=DEFERRAL,
        us=us_panel_text(panel, is_short=is_short) if isinstance(panel, UsPanel) else None,
        eu=eu_panel_text(panel) if isinstance(panel, EuPanel) else None,
        statement=statement_text(statement),
        blocks=tuple(_blocks(panel, statement)),
        additives=additive_points(statement),
        findings=(*_wide(panel), *statement_points(statement)),
        allergens=tuple(allergen_line(one) for one in statement.allergens),
        thresholds=tuple(threshold_line(one) for one in (statement.sulfites, statement.gluten)),
        quantities=quantities(statement),
        diets=tuple(diet_line(one) for one in statement.diets),
        fiber=panel.fiber,
        notes=tuple(_notes(panel, is_short=is_short)),
        figures=panel_figures(panel),
        items=items(statement),
        settled=tuple(question_point(one) for one in settled),
        remark=f"Computed from the formula and the tables. Weakest figure or rule used: "
        f"{worst.value} ({worst.meaning}).",
        evidence=evidence,
    )


def _blocks(panel: UsPanel | EuPanel, statement: Statement) -> Iterator[LabelPoint]:
    for one in panel.blockers:
        yield LabelPoint("stop", one.text, "", one.action)
    if isinstance(panel, UsPanel) and panel.container is None:
        yield LabelPoint("stop", _NO_CONTAINER, "", _GIVE_CONTAINER)
    yield from blocks(statement)
    if statement.category == OTHER and statement.additives:
        yield LabelPoint("stop", _NO_CATEGORY, "", _CHOOSE_CATEGORY)
    else:
        yield from _undecided(statement)
    if statement.alcohol is not None and statement.alcohol.severity is Severity.STOP:
        yield LabelPoint("stop", f"{statement.alcohol.title}.", "", statement.alcohol.action)


def _undecided(statement: Statement) -> Iterator[LabelPoint]:
    for one in statement.additives:
        if one.allowed is Verdict.CANNOT_TELL:
            title = f"Whether {', '.join(one.names)} may be in it cannot be told from our tables."
            yield LabelPoint("stop", title, "", one.action, lines=one.lines)


def _wide(panel: UsPanel | EuPanel) -> Iterator[LabelPoint]:
    """Yield where our own range goes past what the authority allows an analysis to find."""
    rows = [row for row in panel.rows if row.tolerance is not None and row.tolerance.is_wide]
    if rows:
        names = ", ".join(row.label.removeprefix("of which ").lower() for row in rows)
        yield LabelPoint(
            "warn",
            _WIDE,
            f"Our range is wider than the tolerance of the market for: {names}.",
            "Have the finished food analyzed.",
            evidence=evidence_join(row.tolerance.evidence for row in rows if row.tolerance),
        )


def _notes(panel: UsPanel | EuPanel, *, is_short: bool) -> Iterator[str]:
    yield from panel.notes
    if not isinstance(panel, UsPanel):
        return
    if panel.serving.remark:
        yield panel.serving.remark
    count = len(panel.simplified.insignificant)
    if panel.simplified.is_allowed and not is_short:
        yield f"{count} nutrients are insignificant, so the short form of the panel is allowed."
    if is_short and not panel.simplified.is_allowed:
        yield f"Only {count} nutrients are insignificant, so the full panel stands here."
