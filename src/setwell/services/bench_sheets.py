"""Bench sheets: weights, times and molds of the batch that is planned, or of the formula's own."""

from dataclasses import dataclass

from setwell.documents.bench_sheet import BenchSheet, bench_sheet_build
from setwell.documents.bench_sheet_pdf import SHEET_PAPERS, SheetPaper
from setwell.documents.bench_sheet_pdf import bench_sheet_pdf as _sheet_pdf
from setwell.documents.bench_sheet_text import bench_sheet_text as _sheet_text
from setwell.documents.card import card_build
from setwell.documents.scaled_lines import grams_text
from setwell.engine.scaled_batch import BatchYield, assessment_at
from setwell.services.assessment import formula_assess
from setwell.services.batch_plan import (
    answer_as_written,
    answer_planned,
    batch_planned,
    is_as_written,
)
from setwell.services.process import ProcessAnswer
from setwell.services.scaling import CardBatch, batch_scaled
from setwell.services.shelves import kitchen_read

__all__ = [
    "SHEET_PAPERS",
    "BatchYield",
    "BenchSheet",
    "SheetBatches",
    "SheetPaper",
    "bench_sheet",
    "bench_sheet_pdf",
    "bench_sheet_text",
    "sheet_batches",
]

_DRAFT = "not saved"
# What a pot says that a cook must know before pouring the batch in.
_FITS = "does_not_fit"


@dataclass(frozen=True, slots=True)
class SheetBatches:
    """The batch a plan is for beside that of the formula, in words; the same where it is one.

    `is_molds` says that the molds alone tell the planned one, and a pot is not yet planned for it.
    """

    planned: str
    written: str
    is_other: bool
    is_molds: bool


def sheet_batches(answer: ProcessAnswer) -> SheetBatches:
    """Return for which batches a sheet can be had."""
    planned = batch_planned(answer)
    is_other = not is_as_written(answer, planned)
    pot = answer.plan.plan.pot
    return SheetBatches(
        planned=grams_text(planned),
        written=grams_text(answer.written_g),
        is_other=is_other,
        is_molds=is_other and pot is not None and pot.batch_g is None,
    )


def bench_sheet(
    answer: ProcessAnswer,
    *,
    is_as_typed: bool = False,
    readability_g: float | None = None,
    makes: BatchYield | None = None,
) -> BenchSheet:
    """Return the sheet of the batch that the plan is for, or of the formula's own.

    Weights are rounded to `readability_g` or else to the kitchen's scale; `makes` is what the
    batch was asked to make.
    """
    answer = answer_as_written(answer) if is_as_typed else answer_planned(answer)
    batch = CardBatch(batch_planned(answer), readability_g, makes)
    is_own = is_as_written(answer, batch.grams)
    assessment = formula_assess(
        formula=answer.formula, formula_id=answer.formula_id, number=answer.number,
        batch_g=batch.grams,
    )  # fmt: skip
    scaled = None if is_own else batch_scaled(formula=answer.formula, batch=batch)
    if scaled is not None:
        assessment = assessment_at(assessment, scaled, batch.makes)
    label = _DRAFT if answer.number is None else f"version {answer.number}"
    return bench_sheet_build(
        assessment,
        card_build(assessment, version_label=label, kitchen=kitchen_read(), scaled=scaled),
        answer.timeline,
        plan=answer.plan.plan,
        schedule=answer.schedule,
        remarks=_remarks(answer),
    )


def bench_sheet_text(*, sheet: BenchSheet) -> str:
    """Return the sheet as plain text."""
    return _sheet_text(sheet)


def bench_sheet_pdf(*, sheet: BenchSheet, paper: SheetPaper = "A4") -> bytes:
    """Return the sheet as one PDF file."""
    return _sheet_pdf(sheet, paper=paper)


def _remarks(answer: ProcessAnswer) -> tuple[str, ...]:
    """Return what cannot be computed of the plan, and a pot too small for the batch."""
    refused = tuple(f"{one.message} {one.hint}".strip() for one in answer.problems)
    advice = answer.pot.advice if answer.pot else ()
    return (*refused, *(f"{one.text} {one.action}" for one in advice if one.code == _FITS))
