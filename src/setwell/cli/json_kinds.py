"""Which result stands under which key for each command that prints JSON."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Any


def json_kinds() -> tuple[tuple[str, str, dict[str, Any]], ...]:
    """Return (command, kind, type by key), for the reference page and the tests."""
    from setwell.services.acidity import AcidPlan
    from setwell.services.catalog import AgentChart, FoodSummary
    from setwell.services.formulas import FormulaSummary
    from setwell.services.labels import EuPanel, Label, Statement, UsPanel
    from setwell.services.probe_judging import ProbeReport
    from setwell.services.proposals import Proposals
    from setwell.services.results import (
        AgentResult,
        Assessment,
        BenchSheet,
        BlendGrid,
        Card,
        Caution,
        CoolingResult,
        Finding,
        LotReport,
        PotResult,
        QuantityRow,
        Robustness,
        SafetyCheck,
        ScaledFormula,
        Schedule,
        StoredLotCheck,
        StoredTextureReading,
        Texture,
        TextureDispute,
        Timeline,
    )
    from setwell.services.substitution import Substitution

    return (
        ("setwell acid --json", "acid-plan", {"acid_plan": AcidPlan}),
        ("setwell agents --json", "agents", {"chart": AgentChart}),
        (
            "setwell blend --json",
            "blend",
            {
                "blend": BlendGrid,
                "texture": Texture,
                "findings": tuple[Finding, ...],
                "cautions": tuple[Caution, ...],
            },
        ),
        ("setwell card --json", "card", {"card": Card}),
        ("setwell check --json", "assessment", {"assessment": Assessment}),
        (
            "setwell cool --json",
            "cooling",
            {"cooling": CoolingResult, "checks": tuple[SafetyCheck, ...]},
        ),
        ("setwell foods --json", "foods", {"foods": tuple[FoodSummary, ...]}),
        ("setwell formulas --json", "formulas", {"formulas": tuple[FormulaSummary, ...]}),
        (
            "setwell heat --json",
            "heating",
            {"pot": PotResult, "checks": tuple[SafetyCheck, ...]},
        ),
        (
            "setwell label --json",
            "label",
            {"label": Label, "panel": UsPanel | EuPanel, "statement": Statement},
        ),
        (
            "setwell measure list --json",
            "measurements",
            {
                "readings": tuple[StoredTextureReading, ...],
                "lot_checks": tuple[StoredLotCheck, ...],
            },
        ),
        (
            "setwell measure show --json",
            "before-after",
            {"quantities": tuple[QuantityRow, ...], "disputes": tuple[TextureDispute, ...]},
        ),
        ("setwell measure show --lot --json", "lot-report", {"lot": LotReport}),
        ("setwell probe --json", "probe", {"log": ProbeReport}),
        ("setwell propose --json", "proposals", {"proposals": Proposals}),
        ("setwell robustness --json", "robustness", {"robustness": Robustness}),
        ("setwell scale --json", "scaled-formula", {"scaled_formula": ScaledFormula}),
        (
            "setwell schedule --json",
            "schedule",
            {"timeline": Timeline, "schedule": Schedule | None},
        ),
        ("setwell substitute --json", "substitution", {"substitution": Substitution}),
        ("setwell sheet --json", "bench-sheet", {"sheet": BenchSheet}),
        (
            "setwell texture --json",
            "texture",
            {"texture": Texture, "agents": tuple[AgentResult, ...]},
        ),
    )
