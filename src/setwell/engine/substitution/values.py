"""What changes besides the dose: numbers, words, allergens and diets, before and after."""

import numpy as np

from setwell.engine.diets import allergen_words, diets
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.substitution.original import KEPT_NAMES
from setwell.engine.substitution.results import Keep, Remark, ValueChange
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate, Evidence

# Closer than this counts as kept (our judgment): a share of numbers, kelvin of temperatures.
_SAME_SHARE, _SAME_K = 0.25, 4.0
_MOUTH = {Verdict.YES: "yes", Verdict.NO: "no", Verdict.CANNOT_TELL: "perhaps"}


def value_changes(
    before: Texture, after: Texture, first: Bench, second: Bench
) -> tuple[ValueChange, ...]:
    """Return each property of both formulas, numbers first."""
    numbers = (
        ("firmness", KEPT_NAMES[Keep.FIRMNESS], before.modulus_kpa, after.modulus_kpa),
        ("break", KEPT_NAMES[Keep.BREAK], before.fracture_stress_kpa, after.fracture_stress_kpa),
        ("strain", "Strain at break", before.fracture_strain, after.fracture_strain),
        ("thickness", KEPT_NAMES[Keep.THICKNESS], before.viscosity_mpa_s, after.viscosity_mpa_s),
        ("setting", KEPT_NAMES[Keep.SETTING], before.first_set_c, after.first_set_c),
        ("weeping", "Water given off in a week, cold", before.weeps_pct, after.weeps_pct),
    )
    texts = (
        ("sets", "Sets", before.sets.value, after.sets.value),
        ("mouth", "Melts in the mouth", _mouth(before), _mouth(after)),
        ("clarity", "Looks", before.clarity, after.clarity),
        ("freezing", "Frozen and thawed", before.freezing, after.freezing),
        ("allergens", "Allergens", _allergens(first), _allergens(second)),
        *((f"diet {name}", name.capitalize(), a, b) for name, a, b in _diets(first, second)),
    )
    return (
        *(_number(code, label, a, b) for code, label, a, b in numbers if a or b),
        *_melting(before, after),
        *(
            ValueChange(code, label, None, None, a or "—", b or "—", a == b)
            for code, label, a, b in texts
            if a or b
        ),
    )


def _melting(before: Texture, after: Texture) -> tuple[ValueChange, ...]:
    """Return where the gel melts; without a gel there is nothing to say."""
    if before.modulus_kpa is None or after.modulus_kpa is None:
        return ()
    return (_number("melting", "Melting temperature", before.melt_c, after.melt_c),)


def _number(code: str, label: str, before: Estimate | None, after: Estimate | None) -> ValueChange:
    # A gel without a melting temperature never melts; the caller leaves it out without a gel.
    lone = "never" if code == "melting" else "—"
    is_kept: bool | None = None
    if before is None and after is None:
        is_kept = True
    elif before is not None and after is not None:
        if before.unit == "°C":
            is_kept = bool(abs(after.value - before.value) <= _SAME_K)
        elif before.value > 0 and after.value > 0:
            is_kept = bool(abs(np.log(after.value / before.value)) <= np.log1p(_SAME_SHARE))
    else:
        is_kept = False
    return ValueChange(
        code, label, before, after, "" if before else lone, "" if after else lone, is_kept
    )


def _mouth(texture: Texture) -> str:
    return "" if texture.melts_in_mouth is None else _MOUTH[texture.melts_in_mouth]


def _allergens(bench: Bench) -> str:
    return ", ".join(allergen_words(bench.plan)) or "none known"


def _diets(first: Bench, second: Bench) -> list[tuple[str, str, str]]:
    sides = []
    for bench in (first, second):
        alcohol = 100.0 * float(bench.state.composition.share("alcohol_g")[0])
        sides.append(diets(bench.plan, alcohol_pct=alcohol, is_complete=True))
    return [(a.diet, a.verdict.value, b.verdict.value) for a, b in zip(*sides, strict=True)]


def remarks_on(values: tuple[ValueChange, ...], evidence: Evidence) -> tuple[Remark, ...]:
    """Return in plain lines what cannot be kept."""
    by_code = {one.code: one for one in values}
    told = [*_on_setting(by_code, evidence), *_on_strain(by_code, evidence)]
    told += _on_melting(by_code, evidence)
    for code, what in (("clarity", "Looks"), ("freezing", "Frozen and thawed")):
        one = by_code.get(code)
        if one is not None and one.is_kept is False and "—" not in {
            one.before_text, one.after_text
        }:  # fmt: skip
            told.append(
                Remark(code, f"{what}: {one.before_text} before, {one.after_text} after.", evidence)
            )
    for one in values:
        if one.is_kept is False and (one.code == "allergens" or one.code.startswith("diet ")):
            text = f"{one.label}: {one.before_text} before, {one.after_text} after."
            told.append(Remark(one.code, f"{text} Read the supplier's labels.", PRACTICE))
    return tuple(told)


def _on_setting(by_code: dict[str, ValueChange], evidence: Evidence) -> list[Remark]:
    sets = by_code["sets"]
    if sets.is_kept or sets.before_text == "no":
        return []
    now = {"no": "It no longer sets.", "cannot tell": "It may not set: prove it in a cup."}
    said = now.get(sets.after_text)
    return [Remark("sets", said, evidence)] if said and sets.after_text != "yes" else []


def _on_strain(by_code: dict[str, ValueChange], evidence: Evidence) -> list[Remark]:
    one = by_code.get("strain")
    if one is None or one.before is None or one.after is None or one.is_kept:
        return []
    before, after = one.before.value, one.after.value
    how = "breaks sooner: more brittle" if after < before else "bends farther: more elastic"
    return [Remark(
        "strain", f"It {how} (strain at break {before:.2g} before, {after:.2g} after). "
        "A dose cannot mend that.", evidence,
    )]  # fmt: skip


def _on_melting(by_code: dict[str, ValueChange], evidence: Evidence) -> list[Remark]:
    told = []
    mouth = by_code.get("mouth")
    if mouth is not None and mouth.is_kept is False and mouth.after_text != "—":
        text = f"Melts in the mouth: {mouth.before_text} before, {mouth.after_text} after."
        told.append(Remark("mouth", text, evidence))
    melt = by_code.get("melting")
    if melt is None or melt.is_kept is not False:
        return told
    hot = melt.after is None or (melt.before is not None and melt.after.value > melt.before.value)
    text = (
        "It stands being served warmer than before."
        if hot
        else "It no longer stands being served as warm as before."
    )
    return [*told, Remark("hot", text, evidence)]
