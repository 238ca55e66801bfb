"""Plain functions that make valid formulas and pantry documents for tests."""

from typing import Any

from setwell.domain.formula import Formula, formula_make
from setwell.domain.pantry import Lot, OwnAgent, OwnFood

MILK_GEL = "500 g whole milk\n30 g sugar\n0.4% kappa carrageenan\n"
MILK_STEPS = (
    "Mix the kappa with the sugar, dry.\nWhisk it into the cold milk.\n"
    "Heat to 90 °C, stirring, and hold for 2 min.\nChill at 4 °C for 3 h.\n"
)


def formula_of(title: str = "Milk gel", **fields: Any) -> Formula:
    return formula_make(title=title, **{"ingredients": MILK_GEL, "steps": MILK_STEPS, **fields})


def food_of(name: str = "Cold pressed pear juice", **fields: Any) -> OwnFood:
    return OwnFood(name=name, **{"nutrients": {"water_g": 86.0, "sugars_g": 11.0}, **fields})


def agent_of(name: str = "Kappa trade powder", **fields: Any) -> OwnAgent:
    return OwnAgent(name=name, **{"based_on": "kappa carrageenan", **fields})


def lot_of(lot_code: str = "K-1", **fields: Any) -> Lot:
    return Lot(lot_code=lot_code, **{"agent": "kappa carrageenan", **fields})
