"""The allergens that a brief may keep out, by the names people write."""

from setwell.domain.brief import Brief
from setwell.engine.catalog import Catalog
from setwell.engine.material import Material
from setwell.engine.names import name_normalize
from setwell.errors import UnknownNameError

_FIELD = "without_allergens"
# Listed by law in the US or the EU; nothing in the tables holds these two.
_NOT_IN_TABLES = ("crustacean", "lupin")
_SPELLINGS: dict[str, tuple[str, ...]] = {
    "dairy": ("milk",),
    "lactose": ("milk",),
    "shellfish": ("crustacean", "mollusk"),
    "soya": ("soy",),
    "soybean": ("soy",),
    "nut": ("tree_nut",),
    "mollusc": ("mollusk",),
    "sulphite": ("sulfite",),
    # Wheat holds gluten, so who keeps gluten out keeps wheat out.
    "gluten": ("gluten", "wheat"),
}


def allergens_named(brief: Brief, catalog: Catalog) -> tuple[str, ...]:
    """Return the allergens to keep out, as the tables call them. Raises UnknownNameError."""
    tags = {tag for one in catalog.materials.values() for tag in one.allergens}
    known = {tag.allergen for tag in tags} | set(_NOT_IN_TABLES)
    kinds = {tag.kind: tag.allergen for tag in tags if tag.kind}
    found: list[str] = []
    for name in brief.without_allergens:
        found += _meant(name, known, kinds)
    return tuple(dict.fromkeys(found))


def _meant(name: str, known: set[str], kinds: dict[str, str]) -> tuple[str, ...]:
    word = "_".join(name.casefold().replace("-", " ").replace("_", " ").split())
    for form in (word, word.removesuffix("s")):
        if form in _SPELLINGS:
            return _SPELLINGS[form]
        if form in known:
            return (form,)
        if form in kinds:
            return (kinds[form],)
    offer = ", ".join(one.replace("_", " ") for one in sorted(known))
    raise UnknownNameError(
        f"“{name.strip()[:60]}” is not an allergen known here.",
        field=_FIELD,
        hint=f"Known: {offer}.",
    )


def allergen_state(material: Material, allergen: str) -> str:
    """Return whether a material holds an allergen: yes, no or check."""
    if material.has_allergen(allergen):
        return "yes"
    word = allergen.replace("_", " ")
    tags = {tag.allergen for tag in material.allergens}
    # A maker's remark may name what the tags do not, and "gluten" stands for wheat too.
    doubtful = allergen in tags or (allergen == "wheat" and "gluten" in tags)
    remarked = f" {word} " in f" {name_normalize(material.diet_reason)} "
    return "check" if doubtful or remarked else "no"
