"""The table classes, once the framework is ready to define them."""

from setwell.store.setup import store_ready

store_ready()

from setwell.store.models import (  # noqa: E402 - the framework must be ready first
    AgentRow,
    CoolerRow,
    FoodRow,
    FormulaRow,
    HobRow,
    LotCheckRow,
    LotCheckRulingRow,
    LotRow,
    MoldRow,
    PriceRow,
    ProbeLogRow,
    ProbeRulingRow,
    ProbeSampleRow,
    ProbeUploadRow,
    ProcessPlanRow,
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
    "CoolerRow",
    "FoodRow",
    "FormulaRow",
    "HobRow",
    "LotCheckRow",
    "LotCheckRulingRow",
    "LotRow",
    "MoldRow",
    "PriceRow",
    "ProbeLogRow",
    "ProbeRulingRow",
    "ProbeSampleRow",
    "ProbeUploadRow",
    "ProcessPlanRow",
    "ReadingRow",
    "SettingRow",
    "ShelfRow",
    "TextureReadingRow",
    "TextureRulingRow",
    "VersionReadingRow",
    "VersionRow",
    "VesselRow",
]
