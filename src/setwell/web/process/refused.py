"""Which field of the process page shows what the engine refuses."""

# By part of the plan and then by the last word of the engine's field.
_FIELD_OF = {
    "pot": {
        "power_w": "power", "hob": "hob", "efficiency": "hob", "diameter_mm": "pot",
        "height_mm": "pot", "wall": "pot", "lid": "lid", "stirring": "stirring",
        "batch_g": "batch", "start_c": "start", "target_c": "target", "hold_min": "hold",
        "room_c": "room",
    },
    "cooling": {
        "pour_c": "pour", "count": "count", "counter_min": "counter", "serving_c": "serving",
        "cooler": "cooler", "air_c": "cooler", "coefficient_w_m2k": "cooler", "thing": "sweep",
    },
    "layer": {
        "formula": "layer", "lower": "layer", "lower_mm": "layer_mm", "upper_mm": "this_mm",
    },
    "piece": {"piece_mm": "piece_mm", "piece_c": "piece_c"},
}  # fmt: skip
# Where a part as a whole is shown.
_WHOLE = {"pot": "pot", "cooling": "mold", "layer": "layer", "piece": "piece_mm"}


def field_of(refused: str) -> str | None:
    """Return the form's field for a field of the engine, such as `pot.hob.power_w`."""
    part, _, field = refused.partition(".")
    return _FIELD_OF.get(part, {}).get(field.split(".")[-1]) or _WHOLE.get(part)
