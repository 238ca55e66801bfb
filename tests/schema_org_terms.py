"""Check JSON-LD against the vocabulary of schema.org: names of terms and expected types.

The document is read as a graph by a general library (rdflib); what each term is called, where it
belongs and what it expects comes from the vocabulary as another package ships it. No network.
"""

import datetime as dt
import json
import re
import warnings
from importlib import import_module
from typing import Any
from urllib.parse import urlsplit

import rdflib
from rdflib import RDF, BNode, Literal, URIRef
from schema_org.registry import ENUM_BY_SCHEMA, MODULE_BY_SCHEMA, ancestry

SDO = "https://schema.org/"
BASE = "https://kitchen.example/cards/here/"
_DURATION = re.compile(r"P(?=.)(\d+D)?(T(?=.)(\d+H)?(\d+M)?(\d+S)?)?")
# Without these a recipe is of no use to its reader.
REQUIRED = ("name", "author", "datePublished", "description", "recipeIngredient",
            "recipeInstructions", "recipeYield")  # fmt: skip


def graph_of(document: dict[str, Any]) -> rdflib.Graph:
    """Return the triples; the context is told here, so that nothing is fetched."""
    assert document["@context"] in {"https://schema.org", "https://schema.org/"}
    local = {**document, "@context": {"@vocab": SDO, "@base": BASE}}
    graph = rdflib.Graph()
    with warnings.catch_warnings():
        # The library's own reader still uses a class that it calls outdated.
        warnings.simplefilter("ignore", DeprecationWarning)
        graph.parse(data=json.dumps(local), format="json-ld")
    return graph


def faults_of(document: dict[str, Any]) -> list[str]:
    """Return what does not fit the vocabulary."""
    graph = graph_of(document)
    found = [f"Recipe without {name}" for name in REQUIRED
             if not list(graph.objects(None, URIRef(SDO + name)))]  # fmt: skip
    for subject, predicate, value in graph:
        if predicate != RDF.type:
            found += _faults_of_triple(graph, subject, predicate, value)
    return found


def _faults_of_triple(graph: rdflib.Graph, subject: Any, predicate: Any, value: Any) -> list[str]:
    owner = _type_of(graph, subject)
    if owner is None:
        return [f"{subject} has no type"]
    known = {one.schema_url: one for one in _class_of(owner).SCHEMA_PROPERTIES}
    term = known.get(str(predicate))
    if term is None:
        return [f"{owner} has no {predicate}"]
    if term.superseded_by:
        return [f"{predicate} is superseded by {term.superseded_by}"]
    if not any(_fits(graph, value, expected) for expected in term.ranges):
        return [f"{term.schema_name}: {value!r} is none of {term.ranges}"]
    return []


def _type_of(graph: rdflib.Graph, subject: Any) -> str | None:
    found = [str(one).removeprefix(SDO) for one in graph.objects(subject, RDF.type)]
    return found[0] if len(found) == 1 and found[0] in MODULE_BY_SCHEMA else None


def _class_of(name: str) -> Any:
    """Return a class for its list of terms; asked of the package, it is made ready to validate."""
    return getattr(import_module(MODULE_BY_SCHEMA[name]), name)


def _fits(graph: rdflib.Graph, value: Any, expected: str) -> bool:
    if isinstance(value, BNode | URIRef):
        kind = _type_of(graph, value)
        return kind is not None and expected in {kind, *ancestry(kind)}
    assert isinstance(value, Literal)
    return _text_fits(value, expected)


def _text_fits(value: Literal, expected: str) -> bool:
    check = _CHECKS.get(expected)
    return check(str(value)) if check else _is_member(str(value), expected)


def _is_date(text: str) -> bool:
    try:
        dt.date.fromisoformat(text[:10])
    except ValueError:
        return False
    return True


def _is_member(text: str, expected: str) -> bool:
    """Members of an enumeration are told by their address."""
    members = getattr(ENUM_BY_SCHEMA.get(expected), "__members__", {})
    return text in {member.value for member in members.values()}


def _is_address(text: str) -> bool:
    return " " not in text and bool(urlsplit(text).scheme or re.search(r"\.\w+$", text))


def _is_amount(text: str) -> bool:
    return re.fullmatch(r"\d+(\.\d+)? (kcal|kJ|g|mg|µg)", text) is not None


def _is_number(text: str) -> bool:
    return re.fullmatch(r"-?\d+(\.\d+)?", text) is not None


_CHECKS = {
    "Text": lambda _text: True,
    "URL": _is_address,
    "Date": _is_date,
    "DateTime": _is_date,
    "Duration": lambda text: _DURATION.fullmatch(text) is not None,
    "Mass": _is_amount,
    "Energy": _is_amount,
    "Integer": _is_number,
    "Number": _is_number,
}
