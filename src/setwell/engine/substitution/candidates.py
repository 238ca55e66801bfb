"""Every agent that could stand in, ranked, and one plain line why another falls out."""

from dataclasses import replace

import numpy as np

from setwell.domain.formula import Diet
from setwell.engine.alcohol_reach import is_beyond_laws
from setwell.engine.diets import allergens, diets
from setwell.engine.gelling.no_gel import only_thickens, why_no_gel
from setwell.engine.gelling.state import NO, YES, AgentState
from setwell.engine.material import Material
from setwell.engine.substitution.bloom import by_bloom
from setwell.engine.substitution.draft import Draft, draft_of, salt_for
from setwell.engine.substitution.original import KEPT_NAMES, Original
from setwell.engine.substitution.results import Candidate, Keep
from setwell.engine.substitution.search import FAR_OUTSIDE, Search, dose_find, usual_doses
from setwell.engine.substitution.work import pour_above
from setwell.engine.verdict import Verdict
from setwell.tables.agents import agent_rows

# What weighs how much in the order (our judgment, no source).
_STRAIN, _MOUTH, _FREEZE, _LOOK, _DOSE, _SALT, _ALLERGEN = 2.0, 1.0, 0.5, 1.0, 1.0, 0.3, 1.0
# A salt that saves less of the agent than this is left out (our judgment).
_WORTH = 0.85
_GELS = frozenset({Keep.FIRMNESS, Keep.BREAK, Keep.SETTING})


def candidates(original: Original) -> tuple[Candidate, ...]:
    """Return all agents of the catalog but the one that goes: possible ones first, best first."""
    side = original.material.agent
    gone = "" if side is None else side.key
    found = [
        candidate(original, material)
        for material in original.kitchen.catalog.materials.values()
        if material.agent is not None and material.agent.key != gone
    ]
    return tuple(
        sorted(found, key=lambda one: (not one.is_possible, one.distance, one.name.casefold()))
    )


def drafts_of(original: Original, material: Material) -> tuple[tuple[Draft, Search], ...]:
    """Return the swap without a salt, and with one where the agent takes one."""
    plain = draft_of(original, material)
    first = _found(plain)
    if plain.is_same_agent or salt_for(plain.key) is None:
        return (first,)
    salted = draft_of(original, material, has_salt=True)
    return (first, _found(salted))


def _found(draft: Draft) -> tuple[Draft, Search]:
    """Return a swap with its dose; where it is poured above its setting, with that step."""
    found = dose_find(draft)
    if draft.is_same_agent:
        return draft, by_bloom(draft, found)
    row = int(np.argmin(np.abs(found.tried - found.grams)))
    poured = replace(draft, pour_c=pour_above(found.state.texture, row))
    if poured.formula(1.0).steps == draft.formula(1.0).steps:
        return draft, found
    return poured, dose_find(poured)


def best_of(original: Original, material: Material) -> tuple[Draft, Search]:
    """Return the better of the swaps with and without a salt; a salt has to be worth it."""
    tried = drafts_of(original, material)
    if len(tried) == 2 and all(one[1].is_reached for one in tried):
        saves = tried[1][1].grams < _WORTH * tried[0][1].grams
        return tried[1] if saves else tried[0]
    good = [one for one in tried if _is_good(original, *one)]
    reached = [one for one in tried if one[1].is_reached]
    return (good or reached or list(tried[-1:]))[0]


def _is_good(original: Original, draft: Draft, found: Search) -> bool:
    dose = 100.0 * found.grams / original.finished_g
    return found.is_reached and dose <= usual_doses(draft.key)[1]


def candidate(original: Original, material: Material) -> Candidate:
    """Return one agent as a stand-in, or why it is none."""
    draft, found = best_of(original, material)
    dose = 100.0 * found.grams / original.finished_g
    why = why_not(original, draft, found)
    row = int(np.argmin(np.abs(found.tried - found.grams)))
    distance = 99.0 if why else _distance(original, draft, found, row, dose)
    helpers = () if draft.salt is None or why else (draft.salt.name,)
    said = why or _how_it_differs(original, found, row, dose, draft)
    return Candidate(
        draft.key, material.name, draft.line_name, not why, None if why else dose, said, helpers,
        distance,
    )  # fmt: skip


def why_not(original: Original, draft: Draft, found: Search) -> str:
    """Return in one plain line why an agent cannot stand in; empty where it can."""
    barred = _barred(original, draft)
    if barred:
        return barred
    agent = found.agent(draft.key)
    if found.is_reached:
        return _too_much(original, draft, found) or _gels_instead(original, found)
    if original.keep in _GELS:
        reason = _no_gel(agent, found)
        if reason:
            return reason
    most, unit = float(np.max(found.values)), original.target.unit
    what = KEPT_NAMES[original.keep].partition(" (")[0].lower()
    if most <= 0:
        return "stays liquid here" if original.keep in _GELS else "does not thicken here"
    if original.keep is Keep.SETTING or most >= original.target.value:
        there = found.values[found.values > 0]
        where = float(there[np.argmin(np.abs(there - original.target.value))])
        return f"comes no closer than a {what} of {where:.3g} {unit}"
    return f"reaches a {what} of {most:.3g} {unit} at most; {original.target.value:.3g} are asked"


def _barred(original: Original, draft: Draft) -> str:
    """Return why an agent cannot come in at any dose; empty where it can."""
    claimed = _broken(original, draft)
    if claimed:
        return f"the formula says {claimed}, and it would not be"
    strength = float(original.bench.state.water.alcohol_by_volume.value[0])
    if is_beyond_laws(draft.key, strength):
        return f"no law here tells what it does in {strength:.0f} % alcohol by volume"
    return ""


def _no_gel(agent: AgentState, found: Search) -> str:
    """Return why there is no gel at any dose tried."""
    if np.max(found.values) > 0 and not only_thickens(agent):
        return ""
    return why_no_gel(agent, float(found.state.serving_c[0]))


def _too_much(original: Original, draft: Draft, found: Search) -> str:
    dose = 100.0 * found.grams / original.finished_g
    usual = usual_doses(draft.key)[1]
    if dose <= FAR_OUTSIDE * usual:
        return ""
    return f"needs {dose:.2g} %, far above the usual {usual:g} %"


def _gels_instead(original: Original, found: Search) -> str:
    """Return what speaks against a thickener that would set."""
    row = int(np.argmin(np.abs(found.tried - found.grams)))
    was = int(original.bench.state.texture.sets[0])
    if original.keep is Keep.THICKNESS and was <= NO and int(found.state.texture.sets[row]) == YES:
        return "sets to a gel before it is as thick"
    return ""


def _broken(original: Original, draft: Draft) -> str:
    """Return a claimed diet that the new agent, and not the old formula, breaks."""
    claimed = original.formula.diets
    if not claimed or draft.material is None:
        return ""
    material = draft.material
    answers = {Diet.VEGAN: material.vegan, Diet.VEGETARIAN: material.vegetarian}
    grains = material.has_allergen("wheat") or material.has_allergen("gluten")
    answers[Diet.NO_GLUTEN] = "no" if grains else "yes"
    before = {one.diet: one.verdict for one in diets(
        original.bench.plan, alcohol_pct=0.0, is_complete=True)}  # fmt: skip
    return next(
        (d.value for d in claimed
         if answers.get(d) == "no" and before.get(d.value) is not Verdict.NO),
        "",
    )  # fmt: skip


def _distance(original: Original, draft: Draft, found: Search, row: int, dose: float) -> float:
    before, after = original.bench.state.texture, found.state.texture
    total = 0.0
    if before.gel is not None and after.gel is not None:
        ratio = after.gel.fracture_strain.value[row] / before.gel.fracture_strain.value[0]
        total += _STRAIN * float(np.abs(np.log(ratio)))
    for a, b, weight in (
        (before.melts_in_mouth, after.melts_in_mouth, _MOUTH),
        (before.frozen, after.frozen, _FREEZE),
    ):
        if a is not None and b is not None:
            total += weight * abs(int(a[0]) - int(b[row])) / 2.0
    if before.haze is not None and after.haze is not None:
        total += _LOOK * abs(float(after.haze.value[row] - before.haze.value[0]))
    low, high = usual_doses(draft.key)
    total += _DOSE * max(0.0, float(np.log(dose / high)), float(np.log(low / dose)))
    known = {one.allergen for one in allergens(original.bench.plan)}
    new = set() if draft.material is None else {one.allergen for one in draft.material.allergens}
    return total + _SALT * (draft.salt is not None) + _ALLERGEN * len(new - known)


def _how_it_differs(original: Original, found: Search, row: int, dose: float, draft: Draft) -> str:
    """Return in one line what changes most with a stand-in."""
    after = found.state.texture
    said = []
    if original.keep in _GELS and after.sets[row] < YES:
        said.append("may or may not set: prove it in a cup")
    said += [*_bends(original, found, row), *_in_mouth(original, found, row)]
    if dose > usual_doses(draft.key)[1]:
        said.append(f"above the usual {usual_doses(draft.key)[1]:g} %")
    if agent_rows()[draft.key].vegan == "no":
        said.append("not vegan")
    return ", ".join(said) or "much the same"


def _bends(original: Original, found: Search, row: int) -> list[str]:
    before, after = original.bench.state.texture.gel, found.state.texture.gel
    if before is None or after is None:
        return []
    ratio = float(after.fracture_strain.value[row] / before.fracture_strain.value[0])
    return ["more brittle"] if ratio < 0.8 else ["more elastic"] if ratio > 1.25 else []


def _in_mouth(original: Original, found: Search, row: int) -> list[str]:
    before = original.bench.state.texture.melts_in_mouth
    after = found.state.texture.melts_in_mouth
    if before is None or after is None:
        return []
    was, now = int(before[0]), int(after[row])
    if was == YES and now == NO:
        return ["does not melt in the mouth"]
    return ["melts in the mouth"] if was == NO and now == YES else []
