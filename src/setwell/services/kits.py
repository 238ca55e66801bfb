"""Dry kits of a formula: what to weigh into bags, and the packing sheet with its labels."""

from dataclasses import dataclass

from setwell.documents.kit_sheet import KitSheet, kit_sheet_build
from setwell.documents.kit_sheet_pdf import KIT_PAPERS, KitPaper
from setwell.documents.kit_sheet_pdf import kit_sheet_pdf as _sheet_pdf
from setwell.domain.formula import Formula
from setwell.engine.kit.build import KitAsk, kit_build
from setwell.engine.kit.results import Kit, KitBag, KitItem
from setwell.errors import OutOfRangeError
from setwell.services.cards import address_checked
from setwell.services.clock import today
from setwell.services.formulas import version_get
from setwell.services.materials import pantry_read
from setwell.services.process_bench import kitchen_bench

__all__ = [
    "KIT_PAPERS",
    "Kit",
    "KitAnswer",
    "KitAsk",
    "KitBag",
    "KitItem",
    "KitPaper",
    "KitSheet",
    "kit_of",
    "kit_pdf",
    "kit_view",
    "packable_lines",
]

_DRAFT = "not saved"
_STEP_LEAST, _STEP_MOST = 1e-4, 10.0


@dataclass(frozen=True, slots=True)
class KitAnswer:
    """A kit as numbers, and as it is printed."""

    kit: Kit
    sheet: KitSheet
    readability_g: float


def kit_view(
    *,
    formula_id: int,
    number: int | None = None,
    ask: KitAsk | None = None,
    readability_g: float | None = None,
    address: str = "",
) -> KitAnswer:
    """Return the kits of a saved version."""
    detail = version_get(formula_id=formula_id, number=number)
    return kit_of(
        formula=detail.formula, ask=ask, readability_g=readability_g, address=address,
        formula_id=formula_id, number=detail.summary.number,
    )  # fmt: skip


def kit_of(
    *,
    formula: Formula,
    ask: KitAsk | None = None,
    readability_g: float | None = None,
    address: str = "",
    formula_id: int | None = None,
    number: int | None = None,
) -> KitAnswer:
    """Return the kits of a formula; `address` is where its card is found, for the QR code.

    Raises InputError at the field for what cannot be.
    """
    ask = ask or KitAsk()
    pantry = pantry_read()
    step = pantry.kitchen.scale_readability_g if readability_g is None else readability_g
    if not _STEP_LEAST <= step <= _STEP_MOST:
        raise OutOfRangeError(
            f"A scale that reads {step:g} g packs no kit; {_STEP_LEAST:g} to {_STEP_MOST:g} g "
            "does.",
            field="readability_g",
        )
    checked = address_checked(address) if address else ""
    bench = kitchen_bench(formula, formula_id=formula_id, number=number).bench
    kit = kit_build(bench, ask=ask, readability_g=step, lots=pantry.lots, today=today())
    sheet = kit_sheet_build(
        kit,
        readability_g=step,
        version_label=_DRAFT if number is None else f"version {number}",
        content_hash=formula.content_hash,
        kitchen_name=pantry.kitchen.name,
        portions=formula.portions if ask.serves_g is None else None,
        address=checked,
    )
    return KitAnswer(kit, sheet, step)


def packable_lines(*, formula_id: int, number: int | None = None) -> tuple[tuple[int, str], ...]:
    """Return the weighed lines of a version to choose from, by number and name."""
    detail = version_get(formula_id=formula_id, number=number)
    bench = kitchen_bench(detail.formula, formula_id=formula_id, number=detail.summary.number).bench
    readings = [bench.plan.readings[position] for position in bench.plan.used]
    return tuple(
        (one.number, one.material.name if one.material else one.line.name) for one in readings
    )


def kit_pdf(*, sheet: KitSheet, paper: KitPaper = "A4") -> bytes:
    """Return the packing sheet and a label for every kit as one PDF file."""
    return _sheet_pdf(sheet, paper=paper)
