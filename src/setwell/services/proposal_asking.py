"""What a brief refers to in this kitchen: saved formulas, lots and own measurements."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass

from setwell.domain.brief import Brief
from setwell.domain.formula import Formula, formula_make
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.lot_check import line_name
from setwell.engine.names import names_nearest
from setwell.engine.proposals.base import BriefBase, base_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.texture_results import Texture
from setwell.errors import InputError, NotFoundError, UnknownNameError
from setwell.services.assessment import formula_assess
from setwell.services.formulas import VersionDetail, formulas_as_parts, version_find, version_get
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.revision import pantry_revision
from setwell.services.texture_calibration import corrections_for
from setwell.store.texture_reading_rows import lot_check_rows, texture_rows
from setwell.tables.agents import agent_rows

_NEAREST = 5


@dataclass(frozen=True, slots=True)
class Asked:
    """A brief with everything that it names; `key` changes with each thing the answer rests on."""

    brief: Brief
    base: BriefBase
    origin: Formula | None
    parts: Mapping[str, Formula]
    like: Texture | None
    corrections: Mapping[str, Corrections]
    key: str
    remarks: tuple[str, ...] = ()


def brief_resolve(brief: Brief) -> Asked:
    """Return a brief with what it names. Raises InputError at the dotted field."""
    origin = _named(brief.base_formula, "base_formula").formula if brief.base_formula else None
    lines = origin or formula_make(title=brief.title, ingredients=brief.base or "1000 g water")
    parts = parts_for(lines)
    base = base_read(brief, catalog=kitchen_catalog(), parts=parts, origin=origin)
    like, remarks = _like(brief)
    corrections = _corrections(brief, base)
    rests_on = (
        brief.content_hash, pantry_revision(), origin and origin.content_hash,
        sorted((title, part.content_hash) for title, part in parts.items()),
        like, sorted(corrections.items()),
    )  # fmt: skip
    key = hashlib.sha256(repr(rests_on).encode()).hexdigest()
    return Asked(brief, base, origin, parts, like, corrections, key, remarks)


def _named(title: str, field: str) -> VersionDetail:
    """Return the newest version of the saved formula with this title."""
    known = formulas_as_parts()
    wanted = " ".join(title.split()).casefold()
    if wanted in known:
        return version_find(content_hash=known[wanted][0])
    titles = {key: formula.title for key, (_, formula) in known.items()}
    nearest = tuple(titles[key] for key in names_nearest(wanted, titles))[:_NEAREST]
    hint = f"Nearest: {', '.join(nearest)}." if nearest else "Save the formula first."
    raise UnknownNameError(
        f"There is no saved formula “{title.strip()}”.", field=field, hint=hint, nearest=nearest
    )


def _like(brief: Brief) -> tuple[Texture | None, tuple[str, ...]]:
    """Return the texture that is asked for by a saved formula, and on what it rests."""
    wish = brief.texture
    if not wish.like:
        return None, ()
    found = _named(wish.like, "texture.like")
    formula_id = found.summary.formula_id
    if wish.like_number is not None:
        try:
            found = version_get(formula_id=formula_id, number=wish.like_number)
        except NotFoundError:
            raise InputError(
                f"“{found.summary.title}” has no version {wish.like_number}.",
                field="texture.like_number",
                hint=f"Its newest is version {found.summary.number}; leave it empty for that one.",
            ) from None
    number = found.summary.number
    texture = formula_assess(formula=found.formula, formula_id=formula_id, number=number).texture
    own = sum(row.number == number and row.counts for row in texture_rows(formula_id=formula_id))
    how = f"as measured {own} times" if own > 1 else "as measured once" if own else "as computed"
    return texture, (f"Like version {number} of {found.summary.title}, {how}.",)


def _corrections(brief: Brief, base: BriefBase) -> Mapping[str, Corrections]:
    """Return what own measurements say of the agents that were measured, in this base."""
    measured = {check.agent for check in lot_check_rows()}
    measured |= {key for row in texture_rows() for key in row.document.lots}
    keys = sorted(measured & agent_rows().keys())
    if not keys:
        return {}
    agents = tuple(BlendAgent(key, key, line_name(key), "") for key in keys)
    together = ProposalDraft(base, brief, agents).formula([0.3] * len(keys))
    return corrections_for(formula=together).corrections
