"""An assessment for people, and as JSON."""

from collections.abc import Iterable

from setwell.cli.screen import SEVERITY_STYLES, Screen
from setwell.cli.shape import json_text
from setwell.cli.texture_print import texture_rows_print
from setwell.documents.amounts import estimate_text, range_text
from setwell.provenance import Estimate
from setwell.services.results import AgentResult, Assessment, LineReading
from setwell.services.sources import evidence_describe
from setwell.units import mass_print, percent_print

# The rest is in the JSON.
KEY_NUTRIENTS = frozenset({"energy_kcal", "protein_g", "fat_g", "sugars_g"})


def assessment_json(result: Assessment) -> str:
    """Return an assessment as JSON text."""
    return json_text("assessment", {"assessment": result})


def assessment_print(result: Assessment, *, has_sources: bool) -> None:
    """Print an assessment in 80 columns."""
    screen = Screen()
    _verdict(screen, result)
    _lines(screen, result.lines)
    _steps(screen, result)
    _findings(screen, result)
    texture_rows_print(screen, result)
    _agents(screen, result.agents)
    _numbers(screen, result)
    _labels(screen, result)
    if has_sources:
        _sources(screen, result)


def _verdict(screen: Screen, result: Assessment) -> None:
    screen.text(result.formula.title, style="bold")
    screen.text(result.texture.sentence or "Nothing can be said about the texture.")
    if not result.is_complete:
        unread = sum(1 for line in result.lines if line.grams is None)
        screen.text(
            f"Not complete: {unread} of {len(result.lines)} lines could not be weighed.",
            style="bold red",
        )
    batch = result.batch
    size = [f"{mass_print(batch.ingredients_g)} in", f"{mass_print(batch.finished_g)} finished"]
    if batch.portions:
        each = f" of {mass_print(batch.portion_g)}" if batch.portion_g else ""
        size.append(f"{batch.portions} portions{each}")
    screen.text(f"Batch: {', '.join(size)}")


def _lines(screen: Screen, lines: tuple[LineReading, ...]) -> None:
    if not lines:
        return
    screen.heading("Lines as read")
    rows = [
        (
            str(line.number),
            mass_print(line.grams) if line.grams is not None else "not read",
            percent_print(line.percent) if line.percent is not None else "",
            line.material_name or line.name,
            line.text.strip(),
        )
        for line in lines
    ]
    screen.table(
        ("line", "weight", "share", "read as", "typed"), rows, right=(0, 1, 2), fixed=(0, 1, 2)
    )
    for line in lines:
        for remark in _line_remarks(line):
            screen.text(remark, lead=f"  line {line.number}: ")


def _line_remarks(line: LineReading) -> Iterable[str]:
    if line.problem:
        near = f" Nearest: {', '.join(line.nearest)}." if line.nearest else ""
        yield line.problem + near
    if line.assumptions:
        yield f"assumed {'; '.join(line.assumptions)}"


def _steps(screen: Screen, result: Assessment) -> None:
    if not result.steps:
        return
    screen.heading("Steps as read")
    for step in result.steps:
        problem = f" {step.problem}" if step.problem else ""
        screen.text(f"{step.reading or step.kind}{problem}", lead=f"  {step.number}. ")


def _findings(screen: Screen, result: Assessment) -> None:
    if not result.findings:
        return
    screen.heading("Findings")
    for severity, style in SEVERITY_STYLES.items():
        for finding in result.findings:
            if finding.severity == severity:
                said = (f"{finding.title.rstrip('.')}.", finding.text, finding.action)
                places = _places(finding.lines, finding.steps)
                text = " ".join(part for part in (*said, places) if part)
                screen.text(text, lead=f"  {severity.upper():<5} ", style=style)


def _places(lines: tuple[int, ...], steps: tuple[int, ...]) -> str:
    parts = [
        f"{name}{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}"
        for name, numbers in (("line", lines), ("step", steps))
        if numbers
    ]
    return f"({'; '.join(parts)})" if parts else ""


def _agents(screen: Screen, agents: tuple[AgentResult, ...]) -> None:
    if not agents:
        return
    screen.heading("Agents")
    rows = [
        (
            agent.name,
            estimate_text(agent.dose_pct),
            agent.dose_verdict,
            agent.hydrates.value,
            agent.sets.value,
            agent.lot or "-",
        )
        for agent in agents
    ]
    screen.table(("agent", "dose", "against usual", "hydrates", "sets", "lot"), rows, fixed=(1,))
    for agent in agents:
        for reason in (agent.hydration_reason, agent.set_reason, agent.practice_note):
            if reason:
                screen.text(reason, lead=f"  {agent.name}: ")


def _numbers(screen: Screen, result: Assessment) -> None:
    found = tuple(_key_estimates(result))
    rows = [
        (label, estimate_text(estimate), range_text(estimate), estimate.grade.value)
        for label, estimate in found
    ]
    if rows:
        screen.heading("Key numbers")
        screen.table(("what", "value", "range", "grade"), rows, fixed=(2, 3))
    flags = dict.fromkeys(flag for _, estimate in found for flag in estimate.flags)
    for flag in flags:
        named = ", ".join(label for label, estimate in found if flag in estimate.flags)
        screen.text(f"{named}.", lead=f"  {flag.capitalize()}: ")
    for figure in result.solution:
        if figure.is_none:
            screen.text(figure.remark, lead="  ")


def _key_estimates(result: Assessment) -> Iterable[tuple[str, Estimate]]:
    for agent in result.agents:
        named = (
            ("sets", agent.set_temperature_c),
            ("sets in practice", agent.practice_set_c),
            ("melts", agent.melt_temperature_c),
            ("stiffness", agent.modulus_kpa),
            ("viscosity", agent.viscosity_mpa_s),
        )
        for label, estimate in named:
            if estimate is not None:
                yield f"{agent.name} {label}", estimate
    for figure in result.solution:
        # No alcohol, and none possible: not worth a row.
        if not figure.is_none and (figure.estimate.value or figure.estimate.high != 0):
            yield figure.label, figure.estimate
    for nutrient in result.nutrients:
        if nutrient.key in KEY_NUTRIENTS:
            yield f"{nutrient.label} per 100 g", nutrient.per_100g


def _labels(screen: Screen, result: Assessment) -> None:
    screen.heading("Allergens, diets, cautions, cost")
    found = [f"{item.allergen} ({item.certainty})" for item in result.allergens]
    screen.text(", ".join(found) or "none found in what was read", lead="  Allergens: ")
    diets = [f"{item.diet}: {item.verdict.value}" for item in result.diets]
    if diets:
        screen.text(", ".join(diets), lead="  Diets:     ")
    titles = [caution.title for caution in result.cautions]
    screen.text(f"{len(titles)}{': ' if titles else ''}{', '.join(titles)}", lead="  Cautions:  ")
    screen.text(_cost(result), lead="  Cost:      ")


def _cost(result: Assessment) -> str:
    cost = result.cost
    if cost.batch is None:
        return "not known; no prices"
    parts = [f"{cost.currency} {cost.batch.value:.2f} a batch"]
    if cost.per_portion is not None:
        parts.append(f"{cost.currency} {cost.per_portion.value:.2f} a portion")
    if cost.unpriced:
        parts.append(f"at least; no price for {', '.join(cost.unpriced)}")
    return ", ".join(parts)


def _sources(screen: Screen, result: Assessment) -> None:
    screen.heading("Where the numbers come from")
    for citation, locator, grade, meaning in evidence_describe(evidence=result.evidence):
        screen.text(f"{citation}; {locator}. {grade}: {meaning}.", lead="  - ")
