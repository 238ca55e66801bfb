"""Which model speaks for which agent."""

from collections.abc import Callable, Mapping
from functools import partial

from setwell.engine.gelling.agar import agar
from setwell.engine.gelling.chart_only import chart_only
from setwell.engine.gelling.doubt import UNCORRECTED, Corrections
from setwell.engine.gelling.finish import finish
from setwell.engine.gelling.fish_gelatin import fish_gelatin
from setwell.engine.gelling.gelatin import gelatin
from setwell.engine.gelling.gellan import gellan_high_acyl, gellan_low_acyl
from setwell.engine.gelling.iota import iota
from setwell.engine.gelling.kappa import kappa
from setwell.engine.gelling.konjac import konjac
from setwell.engine.gelling.lambda_type import lambda_type
from setwell.engine.gelling.state import AgentInput, AgentState
from setwell.engine.gelling.thickeners import thickener

AGENT_MODELS: Mapping[str, Callable[[AgentInput], AgentState]] = {
    "agar": agar,
    "cmc": thickener,
    "gelatin": gelatin,
    "gelatin_fish_cold": fish_gelatin,
    "gellan_HA": gellan_high_acyl,
    "gellan_LA": gellan_low_acyl,
    "guar": thickener,
    "gum_arabic": thickener,
    "iota_carrageenan": iota,
    "kappa_carrageenan": partial(kappa, key="kappa_carrageenan"),
    "konjac": konjac,
    "lambda_carrageenan": lambda_type,
    "locust_bean_gum": thickener,
    "processed_eucheuma": partial(kappa, key="processed_eucheuma"),
    "tara": thickener,
    "xanthan": thickener,
}


def agent_state(agent: AgentInput, corrections: Corrections = UNCORRECTED) -> AgentState:
    """Return what an agent does, by its own model or from the tables alone."""
    return finish(AGENT_MODELS.get(agent.key, chart_only)(agent), agent, corrections)
