"""The table classes, once the framework is ready to define them."""

from setwell.store.setup import store_ready

store_ready()

from setwell.store.label_models import LabelChoicesRow  # noqa: E402
from setwell.store.models import (  # noqa: E402 - the framework must be ready first
    AgentRow,
    BriefRow,
    BriefVersionRow,
    CoolerRow,
    FoodRow,
    FormulaRow,
    HobRow,
    LotCheckRow,
    LotCheckRulingRow,
    LotRow,
    MoldRow,
    PricePaidRow,
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
from setwell.store.photo_models import PhotoRow  # noqa: E402
from setwell.store.publication_models import (  # noqa: E402
    PublicationRow,
    PublishedVersionRow,
    ShareLinkRow,
)

__all__ = [
    "AgentRow",
    "BriefRow",
    "BriefVersionRow",
    "CoolerRow",
    "FoodRow",
    "FormulaRow",
    "HobRow",
    "LabelChoicesRow",
    "LotCheckRow",
    "LotCheckRulingRow",
    "LotRow",
    "MoldRow",
    "PhotoRow",
    "PricePaidRow",
    "PriceRow",
    "ProbeLogRow",
    "ProbeRulingRow",
    "ProbeSampleRow",
    "ProbeUploadRow",
    "ProcessPlanRow",
    "PublicationRow",
    "PublishedVersionRow",
    "ReadingRow",
    "SettingRow",
    "ShareLinkRow",
    "ShelfRow",
    "TextureReadingRow",
    "TextureRulingRow",
    "VersionReadingRow",
    "VersionRow",
    "VesselRow",
]
