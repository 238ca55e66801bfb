"""Plain functions that make answers to briefs for tests: formulas and textures are computed."""

from collections.abc import Sequence

from setwell.domain.brief import Brief, brief_make
from setwell.domain.formula import Formula
from setwell.domain.pantry import Pantry
from setwell.engine.assess import assess
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.catalog import Catalog, catalog_build
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.results import (
    AgentDose,
    Chance,
    Conflict,
    FellOut,
    HelperDose,
    Judged,
    Proposal,
    Proposals,
    Relaxation,
    WishAnswer,
)
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate

NAMES = {
    "agar": ("Agar", "agar"),
    "kappa_carrageenan": ("Kappa carrageenan", "kappa carrageenan"),
    "iota_carrageenan": ("Iota carrageenan", "iota carrageenan"),
    "gellan_LA": ("Low acyl gellan", "low acyl gellan"),
    "locust_bean_gum": ("Locust bean gum", "locust bean gum"),
    "xanthan": ("Xanthan gum", "xanthan gum"),
    "guar": ("Guar gum", "guar gum"),
}


def brief_of(title: str = "Elderflower jelly", **fields: object) -> Brief:
    fields.setdefault("base", "900 g water\n100 g sugar")
    fields.setdefault("texture", {"word": "elastic", "stress_low": 3.0, "stress_high": 30.0})
    return brief_make(title=title, **fields)


def proposal_of(
    brief: Brief,
    agents: dict[str, float],
    *,
    code: str = "",
    helpers: dict[str, float] | None = None,
    holds: Sequence[str] = ("yes", "cannot tell", "no"),
    fit: float = 0.8,
    chance: float | None = 0.74,
    cost: float | None = 0.12,
    is_best: bool = True,
    catalog: Catalog | None = None,
    origin: Formula | None = None,
) -> Proposal:
    catalog = catalog or catalog_build(Pantry())
    base = base_read(brief, catalog=catalog, origin=origin)
    blend = tuple(BlendAgent(key, NAMES[key][0], NAMES[key][1], "") for key in agents)
    draft = ProposalDraft(base, brief, blend, tuple(helpers or {}))
    formula = draft.formula([*agents.values(), *(helpers or {}).values()])
    texture = assess(formula, catalog=base.catalog).texture
    asked = ("elastic", "clear", "holds at 60 °C (140 °F)")
    return Proposal(
        code=code or "-".join(agents),
        agents=tuple(AgentDose(key, *NAMES[key], pct) for key, pct in agents.items()),
        helpers=tuple(HelperDose(name, pct) for name, pct in (helpers or {}).items()),
        formula=formula,
        texture=texture,
        wishes=tuple(
            WishAnswer(f"wish{n}", asked[n], f"found {n}", Verdict(said), 0.4 * n)
            for n, said in enumerate(holds)
        ),
        fit=fit,
        chance=None if chance is None else Chance("home", chance, chance - 0.1, chance + 0.1, 256),
        cost_per_portion=None if cost is None else Estimate(cost, "$", 0.8 * cost, None, "prices"),
        ingredients=len(agents) + len(helpers or {}),
        process=("Boil for 2 min", "Sets at 38 °C (100 °F)"),
        label=("adds: agar (E 406)",),
        allergens=(),
        traded=("more brittle than asked",),
        cautions=("Powders that swell go on the scale before the water.",),
        is_best=is_best,
    )


def proposals_of(brief: Brief, *found: Proposal, is_complete: bool = True) -> Proposals:
    return Proposals(
        title=brief.title,
        wishes=("elastic", "clear", "holds at 60 °C (140 °F)"),
        proposals=found,
        fell_out=(
            FellOut(("lambda",), "Lambda carrageenan", "will not gel"),
            FellOut(("gelatin",), "Gelatin", "melts below 60 °C (140 °F)"),
            FellOut(("agar", "xanthan"), "Agar + xanthan gum", "no better than agar alone"),
        ),
        conflicts=(
            Conflict(("wish0", "wish2"), "Elastic and holding hot exclude each other here."),
        ),
        relaxations=(
            Relaxation(("wish2",), "Let it hold to 45 °C (113 °F) instead.",
                       (("holds_c", "45"),), ("Gelatin",)),
        ),
        judged=Judged(1_240, 83_000, 2_100_000),
        remarks=("Doses count on powders of usual strength.",),
        assumed=("Tap water of medium hardness.",),
        is_complete=is_complete,
    )  # fmt: skip


def three_gels(
    brief: Brief, catalog: Catalog | None = None, origin: Formula | None = None
) -> tuple[Proposal, ...]:
    known = {"catalog": catalog, "origin": origin}
    return (
        proposal_of(
            brief, {"kappa_carrageenan": 0.3, "locust_bean_gum": 0.2},
            helpers={"potassium chloride": 0.1}, fit=0.3, cost=0.21, **known,
        ),
        proposal_of(brief, {"agar": 0.6}, fit=0.9, cost=0.08, chance=0.91, **known),
        proposal_of(brief, {"gellan_LA": 0.2}, fit=1.6, cost=0.31, chance=None, is_best=False,
                    **known),
    )  # fmt: skip
