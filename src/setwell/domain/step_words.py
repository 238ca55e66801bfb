"""Which verb says what a step does."""

import re
from enum import StrEnum


class StepKind(StrEnum):
    """What a step does."""

    DISPERSE = "disperse"
    BLOOM = "bloom"
    MIX = "mix"
    HEAT = "heat"
    BOIL = "boil"
    HOLD = "hold"
    ADD = "add"
    BLEND = "blend"
    COOL = "cool"
    POUR = "pour"
    CHILL = "chill"
    REST = "rest"
    FREEZE = "freeze"
    UNMOLD = "unmold"
    SERVE = "serve"
    OTHER = "other"


_COLD = r"fridge|refrigerator|cold room|walk-?in"
_VESSELS = (
    r"(?:mou?lds?|cups?|ramekins?|glass(?:es)?|trays?|dish(?:es)?|pans?|forms?|containers?|jars?|"
    r"tins?|frames?|coupes?|terrines?|shots?)"
)


def _moved(place: str) -> str:
    """Return the words that bring something to a cold place: "put it in the fridge"."""
    return (
        rf"(?:put|plac(?:e|ing)|mov(?:e|ing)|transfer|slide|set) (?:\w+ ){{0,4}}?(?:in|into|to) "
        rf"(?:the |a )?(?:{place})"
    )


# At one place in the text the earlier entry wins: "stir in" is an addition, "stir" is mixing.
_VERBS = {
    StepKind.ADD: r"add(?:ing)?|(?:stir|whisk|fold|mix|pour|blend)(?:ing)? in(?!to)|season|acidify",
    StepKind.UNMOLD: r"unmou?ld\w*|demou?ld\w*|turn(?:ing)? out|release",
    StepKind.BLOOM: r"bloom(?:ing)?|soak(?:ing)?",
    StepKind.DISPERSE: r"dispers(?:e|ing)|rain(?:ing)?|sprinkl(?:e|ing)|dry[- ]?blend|slurry",
    StepKind.POUR: r"(?:pour|ladle|fill|deposit|portion|pipe|spoon)(?:ing)?|divid(?:e|ing)",
    StepKind.FREEZE: r"freez(?:e|ing)|blast[- ]freez\w*|" + _moved("freezer"),
    StepKind.CHILL: r"chill(?:ing)?|refrigerat(?:e|ing)|" + _moved(_COLD),
    StepKind.SERVE: r"serv(?:e|ing)|plate(?! and)",
    StepKind.BOIL: r"(?:bring|heat|come|cook)(?:ing)? (?:\w+ ){0,6}?to (?:a|the|full) "
    r"(?:full |rolling |hard |gentle )*boil|boil|reboil",
    StepKind.HEAT: r"(?:re)?heat(?:ing)?|warm(?:ing)?|cook(?:ing)?|scald|microwave|simmer(?:ing)?|"
    r"bring(?:ing)?|pasteuri[sz]e|bake|steam|poach|melt(?:ing)?",
    StepKind.COOL: r"cool(?:ing)?|ice bath",
    StepKind.BLEND: r"blend(?:ing)?|blitz|pur[eé]e|shear|homogeni[sz]e",
    StepKind.HOLD: r"hold(?:ing)?|keep(?:ing)?|maintain",
    StepKind.REST: r"rest(?:ing)?|degas|stand|set aside|leave|wait|"
    r"let (?:\w+ )?(?:set|sit)|hydrate|set",
    StepKind.MIX: r"mix(?:ing)?|whisk(?:ing)?|stir(?:ring)?|combine|dissolv(?:e|ing)|emulsify",
}
_ANY = re.compile(
    r"(?<![\w-])(?:" + "|".join(f"(?P<{k.name}>{words})" for k, words in _VERBS.items())
    + r")(?![\w-])",
    re.IGNORECASE,
)  # fmt: skip
_NOT = re.compile(
    r"\b(?:do not|don't|never|without|avoid|must not|not|before|until|so that|while|under)"
    r"(?: \w+){0,3} $",
    re.IGNORECASE,
)
_UNTIL_BOIL = re.compile(r"\buntil (?!just before)(?:\w+ ){0,4}boil", re.IGNORECASE)
# "Off the heat" names the flame, not an action.
_FLAME = re.compile(
    r"\b(?:the|off|from|low|medium|high|gentle|moderate|strong|medium-high) $", re.IGNORECASE
)
# Where the agent meets the liquid is what counts in a step that whisks, rains and stirs.
_OVERRIDES = (StepKind.DISPERSE, StepKind.BLOOM)
# Weaker verbs give way to one that moves the temperature.
_WEAK = {StepKind.MIX, StepKind.BLEND}
_THERMAL = {StepKind.HEAT, StepKind.BOIL, StepKind.COOL, StepKind.CHILL, StepKind.FREEZE}
_VESSEL = re.compile(rf"\b{_VESSELS}\b", re.IGNORECASE)
# "Pour in cups" fills them; "pour in the milk" adds it.
_INTO_VESSEL = re.compile(
    rf"pour(?:ing)? in (?:the |a |an |its )?(?:\d+ )?{_VESSELS}(?= *(?:[.,;(]|at\b|and\b|$))", re.I
)
# "Pour at 70 °C" and "pour and chill" mean the molds, "pour the milk over it" does not.
_POUR_OUT = re.compile(r"\bpour(?:ing)?(?= (?:at|and|hot|warm|out|off|quickly)\b|[.,;]|$)", re.I)
_COLD_PLACE = re.compile(rf"\b(?:{_COLD})\b", re.IGNORECASE)
_WITH_SUGAR = re.compile(
    r"\b(?:mix|whisk|rub|blend)\b.{1,60}\bwith (?:the )?sugar\b", re.IGNORECASE
)


def kind_find(written: str) -> StepKind:
    """Return what the step does: the first telling verb, dispersing and heating before mixing."""
    if _UNTIL_BOIL.search(written):
        return StepKind.BOIL
    kinds = [kind for match in _ANY.finditer(written) if (kind := _kind(match, written))]
    for kind in _OVERRIDES:
        if kind in kinds and StepKind.ADD not in kinds[: kinds.index(kind)]:
            return kind
    return _settled(kinds, written) if kinds else StepKind.OTHER


def _settled(kinds: list[StepKind], written: str) -> StepKind:
    """Return the telling one of several verbs: "leave to cool" cools, "stir and heat" heats."""
    first = kinds[0]
    if first in _WEAK:
        thermal = next((kind for kind in kinds if kind in _THERMAL), None)
        is_dry = _WITH_SUGAR.search(written) is not None
        return thermal or (StepKind.DISPERSE if is_dry else first)
    if first in (StepKind.REST, StepKind.HOLD) and _COLD_PLACE.search(written):
        return StepKind.CHILL
    if first == StepKind.REST and len(kinds) > 1 and kinds[1] in _THERMAL:
        return kinds[1]
    return first


def _kind(match: re.Match[str], written: str) -> StepKind | None:
    behind = written[max(0, match.start() - 60) : match.start()]
    if _NOT.search(behind):
        return None
    if match[0].lower() == "heat" and _FLAME.search(behind):
        return None
    kind = StepKind[match.lastgroup] if match.lastgroup else None
    if kind == StepKind.ADD and _INTO_VESSEL.match(written, match.start()):
        return StepKind.POUR
    if match[0].lower().startswith("divid") and not _VESSEL.search(written):
        return None
    if kind == StepKind.POUR and not (_VESSEL.search(written) or _POUR_OUT.search(written)):
        return StepKind.ADD
    return kind
