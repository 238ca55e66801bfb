"""The work at the stove, before and after: soaking, dispersing, heat, acid, pouring, chilling."""

import difflib

import numpy as np

from setwell.engine.gelling.acid import loss_evidence
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.rules.sour_base import acid_left_text, is_sour_base
from setwell.engine.substitution.method import Family, family_of, hold_min, is_acid_shy
from setwell.engine.substitution.results import ProcessChange, StepChange
from setwell.engine.texture import TextureState
from setwell.provenance import Evidence
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print

_NONE = "—"
_BOILS_C = 95.0
# The pour stays this far above where it sets (common practice) [K].
_MARGIN_K = 5.0
_LEAST_POUR_C = 25.0
# The acid comes after soaking, getting it in and heat.
_BEFORE_SALTS = 3


def pour_above(texture: TextureState, row: int = 0) -> float | None:
    """Return how warm the batch must be while it is poured; None where that does not matter."""
    set_c = texture.first_set_c
    if set_c is None or not np.isfinite(set_c.value[row]):
        return None
    # Above the middle, with a margin; the far end of the doubt would only frighten.
    least = float(set_c.value[row]) + _MARGIN_K
    return 5.0 * float(np.ceil(least / 5.0)) if least > _LEAST_POUR_C else None


def process_changes(
    old_key: str, new_key: str, first: Bench, second: Bench
) -> tuple[ProcessChange, ...]:
    """Return each point of the work; an empty key stands for no agent or for egg."""
    rows = (
        ("bloom", "Soaking", _soak),
        ("disperse", "Getting it in", _disperse),
        ("heat", "Heat", _heat),
        ("ions", "Salts it needs", _ions),
    )
    found = []
    for code, label, tell in rows:
        (before, e1), (after, e2) = tell(old_key), tell(new_key)
        found.append(_change(code, label, before, after, (*e1, *e2)))
    (before, e1), (after, e2) = _acid(old_key, first), _acid(new_key, second)
    found.insert(_BEFORE_SALTS, _change("acid", "Acid", before, after, (*e1, *e2)))
    found.append(_change("pour", "Pouring", _pour(first), _pour(second), PRACTICE))
    found.append(
        _change("chill", "Chilling", _chill(old_key, first), _chill(new_key, second), PRACTICE)
    )
    return tuple(found)


def _change(code: str, label: str, before: str, after: str, evidence: Evidence) -> ProcessChange:
    once = tuple(dict.fromkeys(evidence))
    return ProcessChange(code, label, before, after, before != after, once)


def _soak(key: str) -> tuple[str, Evidence]:
    if not key:
        return _NONE, ()
    if family_of(key) is Family.SOAKED:
        return "bloom in five to six times its weight of cold water", PRACTICE
    return "do not bloom: soaked powder clumps when heated", PRACTICE


def _disperse(key: str) -> tuple[str, Evidence]:
    return _text(key, "dispersion")


def _heat(key: str) -> tuple[str, Evidence]:
    if not key:
        return _NONE, ()
    citation = (agent_rows()[key].figure("hydration_hold").citation,)
    minutes = f"{hold_min(key):g} min"
    if family_of(key) is Family.COLD:
        return f"none needed; rest {minutes}", citation
    needed = needed_c(key)
    if needed >= _BOILS_C:
        return f"must boil, {minutes}, stirring", citation
    most = ", not above 80 °C (176 °F)" if family_of(key) is Family.SOAKED else ", stirring"
    return f"{temperature_print(needed)} throughout, {minutes}{most}", citation


def _acid(key: str, bench: Bench) -> tuple[str, Evidence]:
    said, evidence = _text(key, "ph_note")
    if not key:
        return said, evidence
    if is_acid_shy(key) and is_sour_base(bench):
        left = acid_left_text(bench, 0, key)
        lost = f"; hot acid leaves {left}, which the dose counts" if left else ""
        return f"cannot wait: the base itself is sour{lost}", (*loss_evidence(key), *PRACTICE)
    when = "add the acid late, off the heat" if is_acid_shy(key) else "at any time"
    return (when if said == _NONE else f"{when}; {said}"), (*evidence, *PRACTICE)


def _ions(key: str) -> tuple[str, Evidence]:
    return _text(key, "ions_needed")


def _text(key: str, name: str) -> tuple[str, Evidence]:
    found = agent_rows()[key].texts.get(name) if key else None
    return (_NONE, ()) if found is None else (found.text, (found.citation,))


def _pour(bench: Bench) -> str:
    least = pour_above(bench.state.texture)
    if least is None:
        return "at any temperature"
    return f"while above {temperature_print(least)}, or it sets in lumps"


def _chill(key: str, bench: Bench) -> str:
    if not key:
        return _NONE
    if family_of(key) is Family.SOAKED:
        return "overnight: it goes on stiffening for 16 h and more"
    if bench.state.agents[key].critical_pct is None:
        return "not to set; as the dish asks"
    return "until cold through; set as soon as it is"


def step_changes(before: str, after: str) -> tuple[StepChange, ...]:
    """Return the steps of both methods side by side."""
    old, new = before.splitlines(), after.splitlines()
    found: list[StepChange] = []
    for tag, a, b, c, d in difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag == "equal":
            found += [StepChange("same", text, text) for text in old[a:b]]
            continue
        pairs = min(b - a, d - c) if tag == "replace" else 0
        found += [StepChange("changed", old[a + n], new[c + n]) for n in range(pairs)]
        found += [StepChange("removed", text, "") for text in old[a + pairs : b]]
        found += [StepChange("added", "", text) for text in new[c + pairs : d]]
    return tuple(found)
