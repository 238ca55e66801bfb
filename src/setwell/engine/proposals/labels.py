"""What a proposal adds to an ingredient list: a draft that a qualified person has to check."""

from collections.abc import Iterator, Sequence

from setwell.domain.brief import Helper, Market
from setwell.engine.proposals.results import AgentDose
from setwell.tables.agents import AgentRow, agent_rows
from setwell.tables.labels.additives import additives
from setwell.tables.rules import mini_cup_bans

_DRAFT = "A draft, recalled in part: a qualified person checks names, numbers and limits first"
_GELS = frozenset({"cold-set gel", "heat-set gel", "ion-set gel", "sugar-acid gel"})
_GELLING, _THICKENER = "gelling agent", "thickener"


# Helpers by their European number; names and classes are in the table of additives.
_SALTS = {
    Helper.POTASSIUM_CHLORIDE.value: "E508",
    Helper.CALCIUM_LACTATE.value: "E327",
    Helper.TRISODIUM_CITRATE.value: "E331",
}


def label_of(
    agents: Sequence[AgentDose], helpers: Sequence[str], market: Market, *, sets: bool
) -> tuple[str, ...]:
    """Return what agents and helpers add to the ingredient lists of a market, one line each.

    `sets` is whether it is a gel, which decides the class of an additive in the EU. The last line
    says that all of it is a draft.
    """
    told: list[str] = []
    if market is not Market.EU:
        told += [f"US: {', '.join(_us(agents, helpers))}", *_us_open(agents)]
    if market is not Market.US:
        told += [f"EU: {_eu(agents, helpers, sets=sets)}", *_eu_limits(agents, sets=sets)]
    return (*told, _DRAFT)


def _parts(agents: Sequence[AgentDose]) -> list[AgentRow]:
    """Return the additives themselves: a mix is declared by its parts."""
    rows = agent_rows()
    keys = [key for agent in agents for key in (rows[agent.key].parts or {agent.key: 1.0})]
    return [rows[key] for key in dict.fromkeys(keys)]


def _text(row: AgentRow, name: str) -> str:
    found = row.regulation.get(name)
    return "" if found is None else found.text


def _us(agents: Sequence[AgentDose], helpers: Sequence[str]) -> list[str]:
    names = [_text(row, "us_label_name") or row.name.lower() for row in _parts(agents)]
    return list(dict.fromkeys([*names, *(additives()[_SALTS[one]].us_name for one in helpers)]))


def _us_open(agents: Sequence[AgentDose]) -> Iterator[str]:
    for row in _parts(agents):
        if row.us_cfr.endswith(": check"):
            said = row.us_cfr.removesuffix(": check")
            yield f"US: check that {row.name.lower()} may be used ({said})"


def _eu(agents: Sequence[AgentDose], helpers: Sequence[str], *, sets: bool) -> str:
    """Return foods by name and additives by class, as "gelling agent: agar (E406)"."""
    foods: list[str] = []
    classes: dict[str, list[str]] = {}
    for row in _parts(agents):
        name = _text(row, "eu_label_name") or row.name.lower()
        if not row.e_number or _text(row, "status"):
            foods.append(name)
        else:
            classes.setdefault(_class(row, sets=sets), []).append(f"{name} ({row.e_number})")
    for salt in (additives()[_SALTS[one]] for one in helpers):
        classes.setdefault(salt.eu_class, []).append(f"{salt.eu_name} ({salt.e_number})")
    told = [f"{kind}: {', '.join(dict.fromkeys(names))}" for kind, names in classes.items()]
    return "; ".join([*dict.fromkeys(foods), *told])


def _class(row: AgentRow, *, sets: bool) -> str:
    if row.kind == "emulsifier":
        return "emulsifier"
    is_gelling = row.kind in _GELS or row.kind == "thickener and gel"
    return _GELLING if sets and is_gelling else _THICKENER


def _eu_limits(agents: Sequence[AgentDose], *, sets: bool) -> Iterator[str]:
    """Yield bans of jelly mini-cups, and caps with the dose that counts against them."""
    bans = mini_cup_bans()
    barred = []
    for agent in agents:
        ban = bans.get(agent.key)
        if ban is not None and ban.limit is not None:
            share = agent_rows()[agent.key].parts.get("konjac", 1.0)
            dose = 10.0 * agent.dose_pct * share
            above = ", which is above that" if dose > ban.limit else ""
            yield f"EU: {ban.statement} Here {dose:.2g} g of konjac per kg{above}"
        elif ban is not None:
            barred.append(agent.name)
    if barred and sets:
        yield f"EU: not allowed in jelly mini-cups, choose another shape: {'; '.join(barred)}"
