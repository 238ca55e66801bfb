"""Replace one agent of a formula and keep its texture."""

from collections.abc import Mapping

import numpy as np

from setwell.domain.formula import Formula
from setwell.engine.assess import bench_build
from setwell.engine.assessment import Severity
from setwell.engine.blend_base import grams_text
from setwell.engine.catalog import Catalog, catalog_build
from setwell.engine.cautions import cautions
from setwell.engine.diets import allergens
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.rules.book import findings
from setwell.engine.rules.sour_base import base_name, is_sour_base
from setwell.engine.substitution.ask import SubstitutionAsk, new_material
from setwell.engine.substitution.bloom import BLOOM_RELATION, bloom_ratio
from setwell.engine.substitution.candidates import best_of, candidates, why_not
from setwell.engine.substitution.draft import Draft, draft_of
from setwell.engine.substitution.method import Family, family_of
from setwell.engine.substitution.original import Kitchen, Original, original_read
from setwell.engine.substitution.results import Candidate, Helper, Remark, Substitution, Swap
from setwell.engine.substitution.search import Search
from setwell.engine.substitution.values import remarks_on, value_changes
from setwell.engine.substitution.work import process_changes, step_changes
from setwell.engine.texture_words import texture_words
from setwell.provenance import Estimate


def substitute(
    formula: Formula,
    ask: SubstitutionAsk,
    *,
    catalog: Catalog | None = None,
    parts: Mapping[str, Formula] | None = None,
    corrections: Mapping[str, Corrections] | None = None,
) -> Substitution:
    """Return what replaces an agent, at which dose, and what changes with it.

    Without a new agent, grade or removal in `ask`, all agents are tried and ranked instead.
    Raises InputError with the field it belongs to (`replace`, `by`, `bloom`, `strength`, `keep`,
    `target`, `formula`) for what cannot be answered.

    >>> from setwell import formula_make
    >>> cup = formula_make(
    ...     title="Cup", ingredients="500 g water\\n10 g gelatin, 200 Bloom",
    ...     steps="Bloom the gelatin\\nHeat to 60 °C\\nChill to 4 °C for 16 h",
    ... )
    >>> round(substitute(cup, SubstitutionAsk(bloom=250.0)).swap.dose_g.value, 1)
    8.9
    """
    kitchen = Kitchen(catalog or catalog_build(), parts or {}, corrections)
    original = original_read(ask, formula, kitchen)
    material = new_material(ask, original.material, kitchen.catalog)
    swap: Swap | None = None
    ranked: tuple[Candidate, ...] = ()
    if material is not None:
        swap = _swap(original, *best_of(original, material))
    elif ask.is_removal:
        swap = _swap(original, draft_of(original, None), None)
    if material is None:
        ranked = candidates(original)
    return Substitution(
        formula=formula,
        replaced=original.readings[0].line.name,
        replaced_lines=tuple(one.number for one in original.readings),
        replaced_g=original.grams,
        keep=original.keep,
        target=original.target,
        before=original.texture,
        swap=swap,
        candidates=ranked,
    )


def _swap(original: Original, draft: Draft, found: Search | None) -> Swap:
    grams = 0.0 if found is None else found.grams
    if found is not None:
        # As it is weighed, so that the numbers are those of the lines.
        grams = float(grams_text(grams))
    made = draft.formula(grams)
    bench = _bench(draft, made)
    after = texture_words(bench)
    values = value_changes(original.texture, after, original.bench, bench)
    evidence = bench.state.agents[draft.key].evidence if draft.key else PRACTICE
    side = original.material.agent
    reason = why_not(original, draft, found) if found is not None else ""
    return Swap(
        name="" if draft.material is None else draft.material.name,
        line_name=draft.line_name,
        is_reached=found is not None and found.is_reached,
        reason=reason,
        dose_g=_dose(original, draft, found, grams, scale=1.0, unit="g"),
        dose_pct=_dose(
            original, draft, found, grams, unit="%",
            scale=100.0 / float(bench.state.composition.finished_g[0]),
        ),
        formula=made,
        after=after,
        helpers=_helpers(draft, grams, bench),
        values=values,
        process=process_changes("" if side is None else side.key, draft.key, original.bench, bench),
        steps=step_changes(original.formula.steps, made.steps),
        remarks=(*_remarks(original, draft, bench), *remarks_on(values, evidence)),
        findings=tuple(one for one in findings(bench) if one.severity is not Severity.NOTE),
        cautions=cautions(bench, allergens(bench.plan)),
    )  # fmt: skip


def _bench(draft: Draft, formula: Formula) -> Bench:
    kitchen = draft.kitchen
    return bench_build(
        formula, catalog=kitchen.catalog, parts=kitchen.parts, corrections=kitchen.corrections
    )


def _dose(
    original: Original, draft: Draft, found: Search | None, grams: float, *, scale: float, unit: str
) -> Estimate | None:
    """Return the dose; its range is the doubt of the new agent, the target taken as it is.

    From one lot or grade to another of the same agent the doubt of the law stands on both sides
    and falls out; for gelatin what is left is the rule.
    """
    if found is None:
        return None
    low, high = found.low, found.high
    is_rule = draft.is_same_agent and bloom_ratio(draft) is not None
    model = "Bloom relation" if is_rule else f"least dose with the same {original.keep.value}"
    evidence = (*(BLOOM_RELATION if is_rule else ()), *found.agent(draft.key).evidence)
    return Estimate(
        scale * grams, unit,
        None if np.isnan(low) else scale * min(low, grams),
        None if np.isnan(high) else scale * max(high, grams), model, evidence,
    )  # fmt: skip


def _helpers(draft: Draft, grams: float, bench: Bench) -> tuple[Helper, ...]:
    if draft.salt is None:
        return ()
    weighed = draft.salt_grams(grams)
    percent = 100.0 * weighed / float(bench.state.composition.finished_g[0])
    return (Helper(draft.salt.name, weighed, percent, draft.salt.reason, draft.salt.evidence),)


def _remarks(original: Original, draft: Draft, bench: Bench) -> tuple[Remark, ...]:
    """Return what goes with the thing that left, and with the new agent."""
    found = {
        "egg": "Egg also brings color, fat, foam and emulsion, and its set is not computed: the "
        f"target is yours. Its {original.water_g:.0f} g of water are made up for."
        if original.is_egg
        else "",
        "bath": "Calcium stirred straight into alginate sets in lumps. Set drops or sheets in a "
        "bath of 1 % calcium lactate and rinse them, or take a calcium that dissolves slowly."
        if draft.key == "sodium_alginate"
        else "",
        "choking": "A firm gel swallowed whole can block the airway: not for molds of one mouthful."
        if draft.key in {"konjac", "kappa_konjac"}
        else "",
        **_on_heat(original, draft, bench),
        "lot": "Set the new lot in use in the pantry: then the numbers of this formula hold."
        if _is_other_lot(draft)
        else "",
    }
    return tuple(Remark(code, text, PRACTICE) for code, text in found.items() if text)


def _on_heat(original: Original, draft: Draft, bench: Bench) -> dict[str, str]:
    side = original.material.agent
    if not draft.key or side is None:
        return {}
    old, new = family_of(side.key), family_of(draft.key)
    is_hot = {Family.HOT, Family.SLURRY}
    if new is Family.SOAKED and old in is_hot:
        return {
            "boil_kept": "The heat was for the old agent and stays in the steps: keep it where "
            "milk, egg or raw fruit needs it, and let gelatin in only after it."
        }
    if new in is_hot and old not in is_hot and is_sour_base(bench):
        return {
            "all_hot": "The whole pot now gets hot, and its base is sour. To spare both, take "
            f"plain water for a part of the {base_name(bench)}, heat the agent in that, and stir "
            "it into the rest, warm."
        }
    if new in is_hot and old not in is_hot:
        return {
            "all_hot": "The whole pot now gets hot. To spare fresh juice or cream, heat the agent "
            "in half of the liquid and stir in the rest warm, above the setting temperature."
        }
    return {}


def _is_other_lot(draft: Draft) -> bool:
    """True where the new lot is stronger or weaker than the one the kitchen has in use."""
    if draft.material is None or draft.material.agent is None:
        return False
    known = draft.original.kitchen.catalog.materials
    key = draft.material.key
    base = known.get(key) or known.get(key.rsplit(":", 1)[0])
    if base is None or base.agent is None:
        return False
    return base.agent.strength_factor != draft.material.agent.strength_factor
