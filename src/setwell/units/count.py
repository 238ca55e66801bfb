"""Pieces a kitchen counts; what one weighs depends on the food."""

from setwell.units.unit import Dimension, Unit

EACH = Unit("each", "each", Dimension.COUNT, 1.0)

_NAMES = (
    "sheet", "clove", "stalk", "sprig", "piece", "slice", "can", "packet",
    "drop", "head", "ear", "bulb", "jar", "bottle", "bag", "carton", "tub", "pod",
)  # fmt: skip

COUNT_UNITS = {
    unit.name: unit
    for unit in (
        EACH,
        *(Unit(name, f"{name}s", Dimension.COUNT, 1.0) for name in _NAMES),
        Unit("leaf", "leaves", Dimension.COUNT, 1.0),
        Unit("bunch", "bunches", Dimension.COUNT, 1.0),
        Unit("box", "boxes", Dimension.COUNT, 1.0),
    )
}
