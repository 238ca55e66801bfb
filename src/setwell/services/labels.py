"""Labels: a nutrition panel and an ingredient statement as a draft, to check, print and keep."""

from dataclasses import dataclass, replace

from setwell.documents.label import Label, LabelHead, label_build
from setwell.documents.label_pdf import LabelPaper
from setwell.documents.label_pdf import label_pdf as _label_pdf
from setwell.documents.label_text import label_text as _label_text
from setwell.domain.brief import Market
from setwell.domain.formula import Formula
from setwell.engine.labels.nutrition_eu import eu_panel
from setwell.engine.labels.nutrition_us import us_panel
from setwell.engine.labels.panel_results import EuPanel, UsPanel
from setwell.engine.labels.servings import ServingAsk
from setwell.engine.labels.statement_eu import eu_statement
from setwell.engine.labels.statement_results import Question, Statement
from setwell.engine.labels.statement_us import us_statement
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.services.label_asking import (
    MAY_CONTAIN_MOST,
    MEASURE_MOST,
    MINOR,
    MINORS,
    LabelAsk,
    MadeAsk,
    PanelForm,
    Stage,
    ask_first,
    ask_make,
    category_choices,
    category_name,
    market_choices,
    reference_choices,
)
from setwell.services.label_kept import KeptChoices, choices_keep, choices_kept
from setwell.services.process_bench import kitchen_bench
from setwell.services.shelves import kitchen_read

__all__ = [
    "MAY_CONTAIN_MOST",
    "MEASURE_MOST",
    "MINOR",
    "MINORS",
    "EuPanel",
    "KeptChoices",
    "Label",
    "LabelAnswer",
    "LabelAsk",
    "LabelPaper",
    "MadeAsk",
    "PanelForm",
    "Stage",
    "Statement",
    "UsPanel",
    "ask_first",
    "ask_kept",
    "ask_make",
    "category_choices",
    "choices_keep",
    "choices_kept",
    "label_get",
    "label_pdf",
    "label_text",
    "market_choices",
    "panel_kept",
    "reference_choices",
]

_DRAFT = "not saved"
_TOLD_MOST = 3


@dataclass(frozen=True, slots=True)
class LabelAnswer:
    """A label in words, what it was made from, and what stands against the stage asked for."""

    label: Label
    ask: LabelAsk
    panel: UsPanel | EuPanel
    statement: Statement
    problems: tuple[InputError, ...] = ()


def label_get(
    *,
    formula: Formula,
    formula_id: int | None = None,
    number: int | None = None,
    ask: LabelAsk | None = None,
) -> LabelAnswer:
    """Return the label of a formula, saved or not, as this kitchen has it.

    `number` is its version, None while it is not saved. Without `ask` what was kept with the
    version counts. Raises InputError, with the field it
    belongs to, for what cannot be computed. Asked for as final while something stands against
    it, the answer is the draft, with a problem that says what is missing.
    """
    asked = ask or ask_kept(formula=formula, formula_id=formula_id, number=number)
    bench = kitchen_bench(formula, formula_id=formula_id, number=number).bench
    panel, statement = label_panel(bench, asked), label_statement(bench, asked)
    head = LabelHead(
        title=formula.title,
        version_label=_DRAFT if number is None else f"version {number}",
        content_hash=formula.content_hash,
        kitchen_name=kitchen_read().name,
        category=category_name(asked.category),
    )
    label = label_build(
        head,
        panel,
        statement,
        is_short=asked.form is PanelForm.SHORT,
        settled=_settled(bench, asked),
    )
    return LabelAnswer(label, asked, panel, statement, _not_final(label, asked))


def ask_kept(
    *, formula: Formula, formula_id: int | None = None, number: int | None = None
) -> LabelAsk:
    """Return what is asked for when nobody says more: what was kept, or else the usual."""
    first = ask_first(formula)
    kept = None
    if formula_id is not None and number is not None:
        kept = choices_kept(formula_id=formula_id, number=number)
    return first if kept is None else ask_make(kept.fields, first).ask


def panel_kept(*, formula: Formula, formula_id: int, number: int) -> UsPanel | EuPanel | None:
    """Return the panel by the choices kept for a version; None where none were, or none fit."""
    if choices_kept(formula_id=formula_id, number=number) is None:
        return None
    ask = ask_kept(formula=formula, formula_id=formula_id, number=number)
    try:
        bench = kitchen_bench(formula, formula_id=formula_id, number=number).bench
        return label_panel(bench, ask)
    except InputError:
        # The label page tells what is wrong with the choices; a card has nothing to say of it.
        return None


def label_panel(bench: Bench, ask: LabelAsk) -> UsPanel | EuPanel:
    """Return the nutrition panel of a computed formula."""
    analyzed = dict(ask.analyzed)
    if ask.market is Market.EU:
        return eu_panel(
            bench,
            portion_g=ask.serving_g,
            per_ml=ask.per_ml,
            density_g_ml=ask.density,
            analyzed=analyzed,
        )
    return us_panel(
        bench, serving=_serving(ask), analyzed=analyzed, protein_score=ask.protein_score
    )


def label_statement(bench: Bench, ask: LabelAsk) -> Statement:
    """Return the ingredient statement of a computed formula."""
    made = eu_statement if ask.market is Market.EU else us_statement
    return made(bench, category=ask.category, choices=ask.choices)


def _settled(bench: Bench, ask: LabelAsk) -> tuple[Question, ...]:
    """Return the questions that the kitchen answered, among those there were."""
    if not ask.cleared:
        return ()
    asked = label_statement(bench, replace(ask, cleared=())).questions
    return tuple(one for one in asked if one.key in ask.cleared)


def _serving(ask: LabelAsk) -> ServingAsk:
    is_own = ask.serving_g is not None
    return ServingAsk(
        reference="" if is_own else ask.reference,
        density_g_ml=ask.density,
        piece_g=ask.piece_g,
        container_g=ask.container_g,
        own_g=ask.serving_g,
        own_measure=ask.measure,
    )


def _not_final(label: Label, ask: LabelAsk) -> tuple[InputError, ...]:
    if ask.stage is not Stage.FINAL or label.is_final:
        return ()
    titles = [point.title.rstrip(".") for point in label.blocks]
    told = "; ".join(titles[:_TOLD_MOST])
    more = len(titles) - _TOLD_MOST
    rest = f"; and {more} more" if more > 0 else ""
    return (
        InputError(
            f"It cannot be final yet: {told}{rest}.",
            field="stage",
            hint="Until then it stays a draft.",
        ),
    )


def label_pdf(*, label: Label, paper: LabelPaper = "A4") -> bytes:
    """Return the label as one PDF file."""
    return _label_pdf(label, paper=paper)


def label_text(*, label: Label, has_figures: bool = False) -> str:
    """Return the label as plain text; `has_figures` adds the numbers before rounding."""
    return _label_text(label, has_figures=has_figures)
