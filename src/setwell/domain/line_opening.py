"""How a line opens: bullets, number words, "about"; and text that is no line at all."""

import re

from setwell.domain.problems import LineProblem, ProblemCode
from setwell.units import text_clean, text_has_control

LENGTH_MOST = 300

_BULLET = re.compile(r"(?:[•*·▪◦‣☐▢] ?|[-–—+] +|\[[ xX]?\] ?|[0-9]{1,3}\) +)+")
_ENDING = re.compile(r"[\s•*·,;–—-]+$")
_ABOUT = re.compile(r"(?:about|approx(?:imately|\.)?|around|roughly|ca\.|~|≈) ?(?=[0-9.])", re.I)
_WORD_NUMBERS = (
    *("one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)
_WORD_NUMBER = re.compile(rf"({'|'.join(_WORD_NUMBERS)}) (?=[a-z])", re.IGNORECASE)
# "a" counts as one only before something one counts: "a little salt" is no amount.
_ARTICLE = re.compile(
    r"(half an?|half|an?|(?=(?:pinch|dash|stick) of)) ?"
    r"(?=(?:(?:heaping|heaped|level|scant|small|large) )?"
    r"(?:pinch|dash|cup|pint|quart|gallon|liter|litre|teaspoon|tablespoon|tsp|tbsp|pound|lb|oz|"
    r"ounce|kilo|stick|sheet|leaf|clove|stalk|sprig|piece|slice|can|tin|packet|envelope|bunch|"
    r"drop|lemon|lime|egg|orange|vanilla)\b)",
    re.IGNORECASE,
)


def line_refused(text: str) -> LineProblem | None:
    """Return the problem of a text that is not read at all."""
    if len(text) > LENGTH_MOST:
        return LineProblem(
            ProblemCode.TOO_LONG,
            f"This line has {len(text)} characters; a line can have {LENGTH_MOST}.",
            "Shorten it, and move the rest to the notes.",
        )
    if text_has_control(text):
        return LineProblem(
            ProblemCode.CONTROL_CHARACTERS,
            "This line has control characters in it, which come from a damaged file.",
            "Type the line again.",
        )
    return None


def line_opened(text: str) -> str:
    """Return the cleaned line without its bullet, starting with a digit where it has a number."""
    written = _ENDING.sub("", text_clean(text))
    bullet = _BULLET.match(written)
    if bullet:
        written = written[bullet.end() :]
    word = _WORD_NUMBER.match(written)
    if word:
        number = _WORD_NUMBERS.index(word[1].lower()) + 1
        return f"{number} {written[word.end() :]}"
    article = _ARTICLE.match(written)
    if article:
        number_text = "1/2" if article[1].lower().startswith("half") else "1"
        return f"{number_text} {written[article.end() :]}"
    about = _ABOUT.match(written)
    return f"{written[about.end() :]}, about" if about else written
