"""Which agents may come in at all, which never go together, and which salts may help."""

from dataclasses import dataclass
from functools import cache
from itertools import combinations

from setwell.domain.brief import Brief, Helper
from setwell.engine.blend_formula import BlendAgent, agent_named
from setwell.engine.gelling.pair import KIN
from setwell.engine.material import Material
from setwell.engine.proposals.admission import Admission, Ruling
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.base_claims import base_remarks
from setwell.engine.proposals.results import FellOut
from setwell.engine.proposals.shelf_names import on_shelf
from setwell.errors import InputError
from setwell.tables.agents import agent_rows

_SHOWN = 3
_GELATINS = frozenset({"gelatin", "gelatin_fish_cold"})
_HIGH_METHOXYL = frozenset({"pectin_HM_rapid", "pectin_HM_slow"})
_LOW_METHOXYL = frozenset({"pectin_LM", "pectin_LMA"})
# Charged gums: potassium or calcium sets them, and citrate takes calcium away from them.
_BY_POTASSIUM = ("kappa_", "processed_", "gellan_", "iota_")
_BY_CALCIUM = ("iota_", "gellan_", "sodium_alginate", "pectin_LM")
_BY_CITRATE = (*_BY_CALCIUM, "kappa_", "processed_")
_TAKES: dict[Helper, tuple[str, ...]] = {
    Helper.POTASSIUM_CHLORIDE: _BY_POTASSIUM,
    Helper.CALCIUM_LACTATE: _BY_CALCIUM,
    Helper.TRISODIUM_CITRATE: _BY_CITRATE,
}


@dataclass(frozen=True, slots=True)
class Shelf:
    """The agents to choose from, one of each table key, and what fell out before any judging.

    `helpers` are the salts worth trying with them. `apart` holds the pairs of keys that nobody
    puts together (our judgment). `most_pct` caps an agent by law, in percent of the batch.
    `remarks` say what a label has to confirm, which name was taken for what, and where the base
    itself does not keep to the brief.
    """

    agents: tuple[BlendAgent, ...]
    fell_out: tuple[FellOut, ...]
    helpers: tuple[str, ...]
    apart: frozenset[frozenset[str]]
    most_pct: tuple[tuple[str, float], ...] = ()
    remarks: tuple[str, ...] = ()


def shelf_of(brief: Brief, base: BriefBase) -> Shelf:
    """Return the agents that a brief leaves, and why each of the others falls out.

    Raises InputError at `shelf`, `without` or `without_allergens`; UnknownNameError offers the
    nearest names.
    """
    named = on_shelf(brief, base.catalog)
    admission = Admission.of(brief, base)
    rulings = [admission.ruling(material) for material in named.materials]
    out = [*named.left_out, *(_fell_out(one) for one in rulings if one.why)]
    kept = [one.material for one in rulings if not one.why]
    if not kept:
        raise _empty(out, [*named.causes, *(one.cause for one in rulings)])
    agents = tuple(agent_named(material, base.catalog) for material in kept)
    keys = [agent.key for agent in agents]
    remarks = (
        *named.remarks,
        *(remark for one in rulings for remark in one.remarks),
        *base_remarks(brief, base),
    )
    return Shelf(
        agents=agents,
        fell_out=tuple(out),
        helpers=_helpers(brief, keys),
        apart=never_together(tuple(sorted(keys))),
        most_pct=tuple(admission.caps(keys)),
        remarks=tuple(dict.fromkeys(remarks)),
    )


def _fell_out(ruling: Ruling) -> FellOut:
    material = ruling.material
    return FellOut((_key(material),), material.name, ruling.why)


def _key(material: Material) -> str:
    return "" if material.agent is None else material.agent.key


def _empty(out: list[FellOut], causes: list[str]) -> InputError:
    """Return why nothing is left, and which fields of the brief would change that."""
    shown = "; ".join(f"{one.name}: {one.why}" for one in out[:_SHOWN])
    more = f"; and {len(out) - _SHOWN} more" if len(out) > _SHOWN else ""
    change = " or ".join(cause for cause in dict.fromkeys(causes) if cause)
    return InputError(
        f"No agent is left to try. {shown}{more}.",
        field="shelf",
        hint=f"Name more agents, or change {change}." if change else "Name more agents.",
    )


def _helpers(brief: Brief, keys: list[str]) -> tuple[str, ...]:
    """Return the salts of the brief that at least one agent answers to."""
    return tuple(
        helper.value
        for helper in dict.fromkeys(brief.helpers)
        if any(key.startswith(_TAKES[helper]) for key in keys)
    )


@cache
def never_together(keys: tuple[str, ...]) -> frozenset[frozenset[str]]:
    """Return the pairs of agents that nobody combines: two of a kind, a mix with its part."""
    return frozenset(
        frozenset(pair) for pair in combinations(keys, 2) if _is_one_kind(*pair) or _share(*pair)
    )


def _is_one_kind(first: str, second: str) -> bool:
    kinds = {_kind(first), _kind(second)}
    return len(kinds) == 1 and None not in kinds


def _kind(key: str) -> str | None:
    """Return the kind of which one is enough."""
    if key.startswith("starch_"):
        return "starch"
    if key.startswith(("hpmc_", "methylcellulose_")):
        return "heat-set ether"
    groups = {"gelatin": _GELATINS, "high": _HIGH_METHOXYL, "low": _LOW_METHOXYL}
    found = next((name for name, keys in groups.items() if key in keys), None)
    # Kappa and its less refined kind do the same work.
    return found or ("kappa" if KIN.get(key, key) == "kappa_carrageenan" else None)


def _share(first: str, second: str) -> bool:
    """Return whether two agents hold the same gum, one of them as a mix."""
    rows = agent_rows()
    if not (rows[first].is_blend or rows[second].is_blend):
        return False
    held = [{KIN.get(p, p) for p in (rows[k].parts or {k: 1.0})} for k in (first, second)]
    return bool(held[0] & held[1])
