"""Was it heated enough? Every rule that goes for this food, on the coldest place."""

from dataclasses import replace

from setwell.domain.step_surroundings import is_out_of_pot
from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.edges import Edges, coldest_edges, course_since
from setwell.engine.safety.food_kind import FoodKind, food_kind
from setwell.engine.safety.holds import HoldRow, best_row, margin_text, rows_judge
from setwell.engine.safety.reductions import reduction_checks
from setwell.engine.safety.results import Basis, Ruling, SafetyCheck
from setwell.engine.safety.slow_warming import slow_warming_checks
from setwell.engine.safety.targets import target_checks
from setwell.provenance import Citation, Evidence, Grade, evidence_join
from setwell.tables.rules import PasteurizationRow, food_code_rules, pasteurization_rows

_EGG_ROWS = ("eggs_held_63", "eggs_held_66", "eggs_held", "eggs_held_70")
_CHANGED = Citation("fr_85_68640", "amends 590.570 and 590.575 from 31 Oct 2022", Grade.STANDARD)
_NOW = "text read in 2026"
_RAW = "The milk here is written as raw, so one of them is needed."
_PLANT = "Asked of plants that pasteurize, not of a kitchen that starts from pasteurized milk."
_LATE = "By the steps the pot is hot before the egg goes in, and that heat cooks no egg."
_SAY_WHEN = "Say when the egg went in, or judge a record that begins with the egg in."
_AFTER_EGG = "Heat the batch once the egg is in, and prove it with a probe read from then on."
_NOT_POT = (
    "The steps also heat it in an oven, a steamer, a bath or a microwave: what that does to the "
    "coldest spot is not computed."
)
_PROBE_IT = "Put a probe in the coldest spot, there too, and judge its log."
_TITLES = {
    "milk": "Dairy base pasteurized",
    "rich_dairy": "Rich or sweet dairy base pasteurized",
    "egg_dairy": "Dairy base with egg pasteurized",
    "liquid_egg": "Liquid egg pasteurized",
    "guidance": "Egg and milk base cooked, home advice",
}


def heating_checks(
    bench: Bench, courses: tuple[Course, ...], *, egg_in_s: float | None = None
) -> tuple[SafetyCheck, ...]:
    """Return what the rules say of a heating: egg, dairy, log reductions, industry targets.

    The coldest of the places counts. A rule passes when even the low edge meets it, fails when
    not even the high edge does, and cannot tell in between. `egg_in_s` is when the egg went in,
    if later than the first reading [s]; heat before that cooks no egg, so where the steps heat
    first and nobody says when the egg went in, nothing passes.
    """
    kind = food_kind(bench)
    if egg_in_s is not None:
        courses = tuple(course_since(course, egg_in_s) for course in courses)
    edges = coldest_edges(courses)
    checks = (
        *_unread(kind, edges),
        *_egg(kind, edges),
        *_pasteurization(kind, edges),
        *reduction_checks(kind, edges),
        *target_checks(edges),
        *slow_warming_checks(edges),
    )
    if egg_in_s is None and kind.is_egg_late:
        checks = tuple(_doubted(check) for check in checks)
    if edges.left_out:
        checks = tuple(_without(check, edges.left_out) for check in checks)
    if not edges.is_measured and any(map(is_out_of_pot, bench.steps)):
        checks = tuple(_unfinished(check) for check in checks)
    return checks


def _without(check: SafetyCheck, left_out: str) -> SafetyCheck:
    """Return a pass as "cannot tell" where the computed course leaves something out."""
    if check.ruling is not Ruling.PASS:
        return check
    text = f"{check.text} {left_out}"
    action = "Prove it with a probe in the coldest spot."
    return replace(check, ruling=Ruling.CANNOT_TELL, text=text, action=action)


def _unfinished(check: SafetyCheck) -> SafetyCheck:
    """Return a fail of a computed pot as "cannot tell" where more heat follows elsewhere."""
    if check.ruling is not Ruling.FAIL:
        return check
    text = f"{check.text} {_NOT_POT}"
    return replace(check, ruling=Ruling.CANNOT_TELL, text=text, action=_PROBE_IT)


def _doubted(check: SafetyCheck) -> SafetyCheck:
    """Return a pass as "cannot tell": some of the heat came before the egg."""
    if check.ruling is not Ruling.PASS:
        return check
    action = _AFTER_EGG if check.is_computed else _SAY_WHEN
    return replace(check, ruling=Ruling.CANNOT_TELL, text=f"{check.text} {_LATE}", action=action)


def _unread(kind: FoodKind, edges: Edges) -> tuple[SafetyCheck, ...]:
    """Say that a line that was not read may hold what asks for more heat."""
    if kind.is_complete:
        return ()
    rule = food_code_rules()["eggs_held_70"]
    return (
        SafetyCheck(
            "unread", "heating", "Lines that were not read", Ruling.CANNOT_TELL,
            "Some ingredient lines could not be read, so a rule for egg or milk may be missing.",
            "Correct those lines on the formula.", None, rule.section,
            f"Food Code {rule.edition}", edges.place, (rule.citation,),
            is_computed=not edges.is_measured,
        ),
    )  # fmt: skip


def _egg(kind: FoodKind, edges: Edges) -> tuple[SafetyCheck, ...]:
    """Egg that is not cooked to order: any egg here is taken as pooled or held."""
    if not kind.raw_egg:
        return ()
    rules = [food_code_rules()[key] for key in _EGG_ROWS]
    rows = tuple(
        HoldRow(rule.key, rule.temperature_c, rule.temperature_f, rule.time_s, rule.citation)
        for rule in rules
        if rule.temperature_c is not None
        and rule.temperature_f is not None
        and rule.time_s is not None
    )
    return (
        hold_check(
            rows, edges,
            key="egg", title="Egg cooked", section=rules[0].section,
            edition=f"Food Code {rules[0].edition}",
            note="Taken as pooled or held egg, not cooked to order.",
        ),
    )  # fmt: skip


def _pasteurization(kind: FoodKind, edges: Edges) -> tuple[SafetyCheck, ...]:
    return tuple(_regime(regime, kind, edges) for regime in regimes_of(kind))


def regimes_of(kind: FoodKind) -> tuple[str, ...]:
    """Return the groups of legal rows that go for a food; one of the rows of each is enough."""
    if kind.has_dairy and kind.has_egg:
        return ("egg_dairy", "guidance")
    if kind.has_dairy:
        return ("rich_dairy",) if kind.rich_because else ("milk",)
    return ("liquid_egg",) if kind.liquid_egg and kind.raw_egg else ()


def _regime(regime: str, kind: FoodKind, edges: Edges) -> SafetyCheck:
    wanted = [row for row in pasteurization_rows() if row.regime == regime]
    if regime == "liquid_egg":
        wanted = [row for row in wanted if row.food == kind.liquid_egg]
    rows = tuple(
        HoldRow(row.key, row.temperature_c, row.temperature_f, row.time_s, row.citation)
        for row in wanted
    )
    return hold_check(
        rows, edges,
        key=f"pasteurization_{regime}", title=_TITLES[regime], section=wanted[0].section,
        edition=_edition(wanted[0]), note=_note(regime, kind), basis=_basis(wanted[0], kind),
        evidence=(_CHANGED,) if regime == "liquid_egg" else (),
    )  # fmt: skip


def _basis(row: PasteurizationRow, kind: FoodKind) -> Basis:
    """Return who asks for it: the rows for dairy bind a kitchen only where its milk is raw."""
    if row.status not in {"in force", "state code"}:
        return Basis.TARGET
    return Basis.LAW if kind.has_raw_milk else Basis.PLANT


def _edition(row: PasteurizationRow) -> str:
    return "text before 31 Oct 2022" if row.status == "benchmark" else _NOW


def _note(regime: str, kind: FoodKind) -> str:
    raw = _RAW if kind.has_raw_milk else _PLANT
    return {
        "milk": f"The rows for plain milk and cream. {raw}",
        "rich_dairy": f"The rows 3 °C (5 °F) hotter: {', '.join(kind.rich_because)}. {raw}",
        "egg_dairy": "The rows that 21 CFR 1240.61(c) prints for eggnog, here for any dairy base "
        f"with egg. {raw}",
        "liquid_egg": "The table was changed by 85 FR 68640 from 31 Oct 2022 and stays a "
        "benchmark.",
        "guidance": "Advice to consumers, not law.",
    }[regime]


def hold_check(  # noqa: PLR0913 - a rule has that many sides
    rows: tuple[HoldRow, ...],
    edges: Edges,
    *,
    key: str,
    title: str,
    section: str,
    edition: str,
    note: str = "",
    topic: str = "heating",
    basis: Basis = Basis.LAW,
    evidence: Evidence = (),
) -> SafetyCheck:
    """Return the check of a rule whose rows are alternatives; the text tells the best of them."""
    judged = rows_judge(rows, edges)
    best = best_row(judged)
    told = {
        Ruling.PASS: f"Met: {best.needs}, {margin_text(best)}.",
        Ruling.FAIL: f"Not met. Nearest: {best.needs}, {margin_text(best)}.",
        Ruling.CANNOT_TELL: f"Too close to call: {best.needs}; at worst {margin_text(best)}.",
    }[best.ruling]
    ways = "; or ".join(row.needs for row in rows if row.is_for_a_kitchen)
    return SafetyCheck(
        key, topic, title, best.ruling,
        f"{edges.preface}{told} {note}".strip() + edges.remark,
        _action(best.ruling, ways, edges),
        best.degrees or best.minutes,
        section, edition, edges.place,
        evidence_join([*(row.evidence for row in judged), evidence, edges.evidence]),
        basis, not edges.is_measured, judged,
    )  # fmt: skip


def _action(ruling: Ruling, ways: str, edges: Edges) -> str:
    if ruling is Ruling.PASS:
        probed = "Keep the record."
        return probed if edges.is_measured else "Put a probe in the coldest spot to prove it."
    if ruling is Ruling.FAIL:
        return f"Heat the coldest spot to {ways}."
    check = "Check the probe in ice water and give its error, or " if edges.is_error_assumed else ""
    if edges.is_measured:
        first = f"{check}hold longer or hotter"
        return f"{first[0].upper()}{first[1:]}: {ways}."
    return f"Measure the coldest spot: {ways}."
