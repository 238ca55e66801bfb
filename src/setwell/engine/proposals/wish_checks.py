"""Wishes that contradict each other, told at the field of the brief that can be changed."""

from setwell.domain.brief import Brief, Mouth, Plating
from setwell.engine.proposals.texture_ask import OF_GELS, TextureAsk
from setwell.engine.proposals.trade_words import Side
from setwell.engine.robustness.window import SLICE_KPA, SPOON_KPA
from setwell.engine.texture import MOUTH_C
from setwell.errors import InputError
from setwell.units import temperature_print

_OPEN_SIDE = Side(None, None)


def wishes_check(brief: Brief, ask: TextureAsk) -> None:
    """Raise InputError at the field of the first wish that contradicts another."""
    _gel_or_liquid(brief, ask)
    _plating(brief, ask)
    _warmth(brief)
    if ask.sets is False:
        _liquid(brief)


def _gel_or_liquid(brief: Brief, ask: TextureAsk) -> None:
    wish = brief.texture
    if ask.word is not None and ask.word.sets is not None and ask.word.sets is not ask.sets:
        what = "a gel" if ask.word.sets else "a liquid"
        raise InputError(
            f"“{ask.word.name}” is a word for {what}, and the brief asks that it "
            f"{'does not set' if ask.word.sets else 'sets'}.",
            field="texture.word",
            hint="Choose another word, or leave setting open.",
        )
    if ask.sets is not False:
        return
    for name in OF_GELS:
        for end in ("low", "high"):
            value = getattr(wish, f"{name}_{end}")
            if value is not None and not (name == "modulus" and end == "high"):
                raise InputError(
                    f"The brief asks for a liquid and for a {name} of {value:g}, which only a gel "
                    "has.",
                    field=f"texture.{name}_{end}",
                    hint="Ask for a gel, or leave this empty.",
                )


def _plating(brief: Brief, ask: TextureAsk) -> None:
    plating = brief.plating
    if plating is Plating.UNMOLDS and ask.sets is False:
        raise _at_plating("What is to unmold has to set, and the brief asks for a liquid")
    if plating is Plating.POURS and ask.sets is True:
        raise _at_plating("What is to pour cannot set, and the brief asks for a gel")
    firm = ask.sides.get("modulus", _OPEN_SIDE)
    if plating is Plating.UNMOLDS and firm.high is not None and firm.high < SLICE_KPA:
        raise _at_plating(
            f"It is to unmold, which takes {SLICE_KPA:g} kPa, with a stiffness of at most "
            f"{firm.high:g} kPa"
        )
    if plating is Plating.SPOONS and firm.low is not None and firm.low > SPOON_KPA[1]:
        raise _at_plating(
            f"It is to be spooned, which ends at {SPOON_KPA[1]:g} kPa, with a stiffness of at "
            f"least {firm.low:g} kPa"
        )


def _at_plating(message: str) -> InputError:
    return InputError(f"{message}.", field="plating", hint="Change one of the two.")


def _warmth(brief: Brief) -> None:
    served, hottest = temperature_print(brief.serving_c), brief.limits.max_temperature_c
    if brief.serving_c > hottest:
        raise InputError(
            f"It is served at {served}, and may not get hotter than {temperature_print(hottest)}.",
            field="limits.max_temperature_c",
            hint="Allow more heat, or serve it cooler.",
        )
    if brief.mouth is Mouth.MELTS and brief.serving_c >= MOUTH_C[0]:
        raise InputError(
            f"What melts in the mouth is a liquid when it is served at {served}.",
            field="mouth",
            hint="Serve it cold, or leave melting open.",
        )
    if brief.holds_c is None:
        return
    held = temperature_print(brief.holds_c)
    if brief.mouth is Mouth.MELTS and brief.holds_c > MOUTH_C[1]:
        raise InputError(
            f"It cannot melt in the mouth, at about {temperature_print(MOUTH_C[1])}, and still "
            f"stand at {held}.",
            field="mouth",
            hint="Leave melting open, or lower the temperature it has to stand.",
        )
    if brief.holds_c < brief.serving_c:
        raise InputError(
            f"It is served at {served}, and has to stand only up to {held}.",
            field="holds_c",
            hint="Write at least the serving temperature, or leave it empty.",
        )


def _liquid(brief: Brief) -> None:
    """Refuse of a liquid what only a gel can do."""
    if brief.mouth is not Mouth.ANY:
        raise InputError(
            "A liquid neither melts nor holds: how its thickness changes with heat is not "
            "computed here.",
            field="mouth",
            hint="Leave this open, and give the temperature it is served at.",
        )
    if brief.holds_c is not None:
        raise InputError(
            "A liquid does not stand, hot or cold.",
            field="holds_c",
            hint="Leave this empty, and give the temperature it is served at.",
        )
    if brief.limits.set_within_h is not None:
        raise InputError(
            "The brief asks for a liquid, which has nothing to set.",
            field="limits.set_within_h",
            hint="Leave this empty, or ask for a gel.",
        )
