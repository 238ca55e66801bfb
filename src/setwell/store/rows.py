"""The table classes, once the framework is ready to define them."""

from setwell.store.setup import store_ready

store_ready()

from setwell.store.models import (  # noqa: E402 - the framework must be ready first
    AgentRow,
    FoodRow,
    FormulaRow,
    LotCheckRow,
    LotCheckRulingRow,
    LotRow,
    MoldRow,
    PriceRow,
    ReadingRow,
    SettingRow,
    ShelfRow,
    TextureReadingRow,
    TextureRulingRow,
    VersionReadingRow,
    VersionRow,
    VesselRow,
)

__all__ = [
    "AgentRow",
    "FoodRow",
    "FormulaRow",
    "LotCheckRow",
    "LotCheckRulingRow",
    "LotRow",
    "MoldRow",
    "PriceRow",
    "ReadingRow",
    "SettingRow",
    "ShelfRow",
    "TextureReadingRow",
    "TextureRulingRow",
    "VersionReadingRow",
    "VersionRow",
    "VesselRow",
]
