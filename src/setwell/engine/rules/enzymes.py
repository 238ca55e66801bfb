"""Raw enzyme fruit with gelatin."""

from collections.abc import Iterable

from setwell.engine.assessment import Severity
from setwell.engine.rules.bench import PRACTICE, Bench, Hit, always, said

_COOKED = frozenset({"boiled", "cooked", "canned"})


def raw_enzyme_fruit(bench: Bench) -> Iterable[Hit]:
    """Say when a fruit that digests gelatin goes in raw."""
    if "gelatin" not in bench.agents and "gelatin_fish_cold" not in bench.agents:
        return
    for leaf in bench.plan.leaves():
        material = leaf.reading.material
        if material is None or not material.enzyme or leaf.reading.line.hints & _COOKED:
            continue
        sure = material.enzyme_certainty == "contains"
        yield Hit(
            "raw_enzyme_fruit", Severity.STOP if sure else Severity.WARN, always(bench),
            said(
                f"{material.name}: digests gelatin",
                f"Raw {material.name} holds {material.enzyme}, which cuts gelatin: it will not "
                "set, or weeps within hours."
                if sure
                else f"If the {material.name} is raw, its {material.enzyme} cuts gelatin; "
                "pasteurized or canned it does not.",
                "Boil the fruit (core at 85 °C, 185 °F, for 5 min), use it canned and write so, "
                "or change to agar or carrageenan.",
            ),
            (leaf.number,), (), (*material.evidence, *PRACTICE),
        )  # fmt: skip
