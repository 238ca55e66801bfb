"""Which model speaks for which agent."""

from collections.abc import Callable, Mapping
from functools import partial

from setwell.engine.gelling.agar import agar
from setwell.engine.gelling.alginate import alginate
from setwell.engine.gelling.cellulose_ether import cellulose_ether
from setwell.engine.gelling.doubt import UNCORRECTED, Corrections
from setwell.engine.gelling.finish import finish
from setwell.engine.gelling.fish_gelatin import fish_gelatin
from setwell.engine.gelling.gelatin import gelatin
from setwell.engine.gelling.gellan import gellan_high_acyl, gellan_low_acyl
from setwell.engine.gelling.iota import iota
from setwell.engine.gelling.kappa import kappa
from setwell.engine.gelling.konjac import konjac
from setwell.engine.gelling.lambda_type import lambda_type
from setwell.engine.gelling.pectin import pectin_sugar_acid
from setwell.engine.gelling.pectin_calcium import pectin_calcium
from setwell.engine.gelling.ready_blend import ready_blend
from setwell.engine.gelling.starch import starch
from setwell.engine.gelling.state import AgentInput, AgentState
from setwell.engine.gelling.thickeners import thickener

_SINGLE: Mapping[str, Callable[[AgentInput], AgentState]] = {
    "agar": agar,
    "cmc": thickener,
    "gelatin": gelatin,
    "gelatin_fish_cold": fish_gelatin,
    "gellan_HA": gellan_high_acyl,
    "gellan_LA": gellan_low_acyl,
    "guar": thickener,
    "gum_arabic": thickener,
    "hpmc_E": cellulose_ether,
    "hpmc_F": cellulose_ether,
    "hpmc_K": cellulose_ether,
    "iota_carrageenan": iota,
    "kappa_carrageenan": partial(kappa, key="kappa_carrageenan"),
    "konjac": konjac,
    "lambda_carrageenan": lambda_type,
    "locust_bean_gum": thickener,
    "methylcellulose_A": cellulose_ether,
    "pectin_HM_rapid": pectin_sugar_acid,
    "pectin_HM_slow": pectin_sugar_acid,
    "pectin_LM": pectin_calcium,
    "pectin_LMA": pectin_calcium,
    "processed_eucheuma": partial(kappa, key="processed_eucheuma"),
    "sodium_alginate": alginate,
    "starch_corn": starch,
    "starch_modified_crosslinked": starch,
    "starch_ocs_osa": starch,
    "starch_potato": starch,
    "starch_pregel": starch,
    "starch_rice": starch,
    "starch_tapioca": starch,
    "starch_waxy_maize": starch,
    "starch_wheat": starch,
    "tara": thickener,
    "xanthan": thickener,
}


AGENT_MODELS: Mapping[str, Callable[[AgentInput], AgentState]] = {
    **_SINGLE,
    **{
        key: partial(ready_blend, models=_SINGLE)
        for key in ("kappa_LBG", "kappa_konjac", "xanthan_LBG")
    },
}


def agent_state(agent: AgentInput, corrections: Corrections = UNCORRECTED) -> AgentState:
    """Return what an agent does, by its own model."""
    return finish(AGENT_MODELS[agent.key](agent), agent, corrections)
