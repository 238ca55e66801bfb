"""Words in a name or note that tell how an ingredient is handled."""

import re

_WORDS = {
    "disperse": r"dispers\w*|with the (?:texture )?(?:agents?|powders?|gums?)",
    "dry_blend": r"dry[- ]?(?:blend|mix)\w*|(?:mixed|rubbed|whisked) with (?:the )?sugar",
    "slurry": r"slurry|slaked?",
    "blender": r"blender|immersion",
    "bloomed": r"bloomed|blooming|to bloom|bloom (?:in|for)",
    "raw": r"raw(?! (?:sugar|cane))|unpasteuri[sz]ed|uncooked",
    "pasteurized": r"pasteuri[sz]ed|uht",
    "cold": r"cold|chilled|iced|ice-cold",
    "warm": r"warm|warmed|lukewarm|tepid",
    "hot": r"hot|boiling",
    "boiled": r"boiled|boiling|scalded|hard-boiled",
    "cooked": r"cooked|roasted|baked|poached|steamed|hard-boiled",
    "canned": r"canned|tinned",
    "fresh": r"fresh|freshly",
    "frozen": r"frozen",
    "dried": r"dried|dry(?![- ](?:blend|mix))",
    "juice": r"juice|juiced",
}
_ANY = re.compile(
    "|".join(rf"(?P<{name}>\b(?:{words})\b)" for name, words in _WORDS.items()), re.IGNORECASE
)
# One written word can mean two things.
_ALSO = {"boiled": re.compile(r"boiling", re.I), "cooked": re.compile(r"hard-boiled", re.I)}


def hints_find(text: str) -> frozenset[str]:
    """Return the handling hints in a text, such as "bloomed", "raw" or "disperse"."""
    found = {match.lastgroup for match in _ANY.finditer(text) if match.lastgroup}
    found.update(name for name, words in _ALSO.items() if found and words.search(text))
    return frozenset(found)
