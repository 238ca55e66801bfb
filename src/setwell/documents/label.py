"""The draft of a label: panel, statement, and what still stands against it."""

from collections.abc import Iterator
from dataclasses import dataclass

from setwell.documents.label_eu import EuPanelText, eu_panel_text
from setwell.documents.label_panel import PanelFigure, panel_figures
from setwell.documents.label_statement import (
    LabelPoint,
    StatementText,
    additive_points,
    allergen_line,
    diet_line,
    quantity_line,
    statement_points,
    statement_text,
    threshold_line,
)
from setwell.documents.label_us import UsPanelText, us_panel_text
from setwell.domain.brief import Market
from setwell.engine.labels.panel_results import EuPanel, FiberFinding, UsPanel
from setwell.engine.labels.statement_results import Statement
from setwell.provenance import Evidence, evidence_join, grade_worst

SHORT_HASH = 10
BANNER = "Draft, to be checked by a qualified person"
DEFERRAL = (
    "Setwell informs; it does not certify. Laws change, and many rules here are recalled: before "
    "anything is sold, a qualified person compares this with the law in force and with each "
    "supplier's papers."
)
COMPLETE = "Nothing that is known here stands against it. It stays a draft until it was checked."
MARKETS = {Market.US: "United States", Market.EU: "European Union"}


@dataclass(frozen=True, slots=True)
class Label:
    """Everything shown of one label, in words; figures keep their estimates.

    `blocks` says what keeps it from being final; exactly one of `us` and `eu` is there.
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
    quantities: tuple[str, ...]
    diets: tuple[str, ...]
    fiber: tuple[FiberFinding, ...]
    notes: tuple[str, ...]
    figures: tuple[PanelFigure, ...]
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
    head: LabelHead, panel: UsPanel | EuPanel, statement: Statement, *, is_short: bool = False
) -> Label:
    """Return the label in words; `is_short` asks for the simplified US panel."""
    evidence = evidence_join((panel.evidence, statement.evidence))
    worst = grade_worst(citation.grade for citation in evidence)
    is_us = isinstance(panel, UsPanel)
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
        findings=statement_points(statement),
        allergens=tuple(allergen_line(one) for one in statement.allergens),
        thresholds=tuple(threshold_line(one) for one in (statement.sulfites, statement.gluten)),
        quantities=() if is_us else tuple(quantity_line(one) for one in statement.quid),
        diets=tuple(diet_line(one) for one in statement.diets),
        fiber=panel.fiber,
        notes=tuple(_notes(panel, is_short=is_short)),
        figures=panel_figures(panel),
        remark=f"Computed from the formula and the tables. Weakest figure or rule used: "
        f"{worst.value} ({worst.meaning}).",
        evidence=evidence,
    )


def _blocks(panel: UsPanel | EuPanel, statement: Statement) -> Iterator[LabelPoint]:
    for one in panel.blockers:
        yield LabelPoint("stop", one.text, "", one.action)
    for text in statement.blocks:
        yield LabelPoint("stop", text, "", "")


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
