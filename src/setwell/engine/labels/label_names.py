"""What an ingredient is called in the list of a market."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from setwell.domain.brief import Market
from setwell.engine.labels.statement_parts import Part
from setwell.engine.material import Material
from setwell.provenance import Citation, Evidence, Grade
from setwell.tables.agents import AgentRow, agent_rows
from setwell.tables.labels.additives import additives
from setwell.tables.labels.food_names import FoodName, food_names

_NUMBER = re.compile(r"E\d+[a-z]?")
# Salts of carrageenan are named by their dominant cation (21 CFR 172.626).
_SALT = re.compile(r"\b(ammonium|calcium|potassium|sodium) (?:\w+ )?carrageenan\b", re.IGNORECASE)
_CLEANED: Evidence = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)
_SALTS: Evidence = (Citation("cfr_21", "section 172.626", Grade.STANDARD),)


@dataclass(frozen=True, slots=True)
class LabelName:
    """A label name; `additive_class` and `e_numbers` are empty for a food.

    `check` says what is open about the wording; `lists_parts` is True where the bought thing
    has ingredients of its own that have to follow.
    """

    text: str
    additive_class: str = ""
    e_numbers: tuple[str, ...] = ()
    check: str = ""
    lists_parts: bool = False
    is_typed: bool = False
    evidence: Evidence = ()


def label_name(part: Part, market: Market, wordings: Mapping[str, str]) -> LabelName:
    """Return the name of an ingredient; the kitchen's own wording comes first."""
    typed = " ".join(wordings.get(part.key, "").split())
    found = _of_part(part, market)
    if not typed:
        return found
    return LabelName(
        typed, found.additive_class, found.e_numbers, is_typed=True, evidence=found.evidence
    )


def plain_name(material: Material, market: Market) -> str:
    """Return what a material is called in a sentence on a label."""
    agent = material.agent.key if material.agent is not None else ""
    if material.key.startswith("own:") or (agent and agent_rows()[agent].parts):
        return material.name
    return label_name(Part("", 0.0, (), material, agent), market, {}).text


def e_numbers_of(part: Part) -> tuple[str, ...]:
    """Return the European numbers an ingredient may stand for; none for a food."""
    if part.agent:
        return tuple(dict.fromkeys(_NUMBER.findall(agent_rows()[part.agent].e_number)))
    named = food_names().get(_food_key(part))
    return named.e_numbers if named is not None else ()


def _food_key(part: Part) -> str:
    return "" if part.material is None else part.material.table_key


def _of_part(part: Part, market: Market) -> LabelName:
    if part.material is None:
        return LabelName(_cleaned(part.title))
    if part.agent:
        return _of_agent(part, agent_rows()[part.agent], market)
    is_own = part.material.key.startswith("own:")
    named = food_names().get(_food_key(part))
    if is_own or named is None:
        check = (
            "a food of your own: give its common name, and its ingredients in brackets if it has "
            "any" if is_own else "a name from the food tables: check the wording"
        )  # fmt: skip
        return LabelName(
            part.material.name if is_own else _cleaned(part.material.name),
            check=check, lists_parts=False, evidence=_CLEANED,
        )  # fmt: skip
    return _of_food(part, named, market)


def _of_food(part: Part, named: FoodName, market: Market) -> LabelName:
    text = named.eu_name if market is Market.EU else named.us_name
    origin: Evidence = (named.citation,)
    eu_class = ""
    if named.e_numbers:
        rows = [additives()[number] for number in named.e_numbers]
        origin = (*origin, *(row.citation for row in rows))
        eu_class = rows[0].gel_class if part.sets else rows[0].eu_class
        if market is Market.US and rows[0].us_use:
            text = f"{text} ({rows[0].us_use})"
    return LabelName(
        text,
        eu_class if market is Market.EU else "",
        named.e_numbers,
        check=named.note,
        lists_parts=named.is_compound,
        evidence=origin,
    )


def _of_agent(part: Part, row: AgentRow, market: Market) -> LabelName:
    named = food_names().get(f"agent:{row.key}")
    if named is not None:
        return _of_food(part, named, market)
    numbers = e_numbers_of(part)
    side = "eu_label_name" if market is Market.EU else "us_label_name"
    told = row.regulation.get(side)
    text = told.text if told is not None else row.name.lower()
    origin: Evidence = (told.citation,) if told is not None else (row.citation,)
    salt = _SALT.search(part.typed)
    if market is Market.US:
        if salt is not None and text == "carrageenan":
            return LabelName(f"{salt.group(1).lower()} carrageenan", "", numbers, evidence=_SALTS)
        return LabelName(text, "", numbers, evidence=origin)
    known = next((additives()[one] for one in numbers if one in additives()), None)
    if known is None:
        return LabelName(text, "", numbers, check="no class is known here", evidence=origin)
    eu_class = known.gel_class if part.sets else known.eu_class
    return LabelName(text, eu_class, numbers, evidence=(*origin, known.citation))


def _cleaned(name: str) -> str:
    """Turn a name of the food tables round: “Squash, butternut” becomes “butternut squash”."""
    bare = re.sub(r"\s*\([^)]*\)|\s*\b\d[\d.–-]*\s*%?(?:\s*abv)?", "", name).strip(" ,")
    head, _, rest = bare.partition(", ")
    return f"{rest.split(', ')[0]} {head}".strip().lower() if rest else head.lower()
