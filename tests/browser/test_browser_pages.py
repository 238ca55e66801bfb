"""Every page: no serious accessibility violation, no sideways scrolling on a phone."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from browser.shots import shoot

PAGES = {
    "home": "/",
    "formulas": "/formulas/",
    "formula": "/formulas/{formula}/",
    "formula-mistake": "/formulas/{mistake}/",
    "new": "/formulas/new/",
    "history": "/formulas/{formula}/history/",
    "compare": "/formulas/{formula}/compare/?first=1&second=2",
    "scale": "/formulas/{formula}/scale/",
    "cost": "/formulas/{formula}/cost/",
    "large": "/formulas/{formula}/scale/large/?target=portions&portion_count=200&portion_g=100",
    "large-mistake": "/formulas/{formula}/scale/large/?target=portions&portion_count=0&vessel=Bath",
    "kit": "/formulas/{formula}/kit/?kits=12",
    "kit-mistake": "/formulas/{formula}/kit/?kits=0&lines=99&address=x",
    "cost-mistake": "/formulas/{formula}/cost/?labor_min=-5&portions=0",
    "card": "/formulas/{formula}/card/",
    "card-home": "/formulas/{formula}/card/?kind=home",
    "card-bench": "/formulas/{formula}/card/?kind=bench&strength_kappa_carrageenan=0.85",
    "card-mistake": "/formulas/{formula}/card/?kind=gold&strength_kappa_carrageenan=9&address=no",
    "card-photos": "/formulas/{formula}/card/photos/?step=2",
    "publish": "/formulas/{formula}/publish/",
    "publish-mistake": "/formulas/{mistake}/publish/",
    "published": "/published/",
    "version": "/formulas/{formula}/versions/2/",
    "texture": "/formulas/{formula}/texture/",
    "measure": "/formulas/{formula}/versions/2/texture-readings/",
    "measure-load": "/formulas/{formula}/versions/2/texture-readings/?kind=penetration",
    "process": "/formulas/{formula}/process/?serve=18:30&sweep=height&layer={formula}",
    "process-mistake": "/formulas/{formula}/process/?target=hot&serve=late",
    "bench-sheet": "/formulas/{formula}/process/sheet/?serve=18:30",
    "label": "/formulas/{formula}/label/?container_g=500",
    "label-eu": "/formulas/{formula}/label/?market=eu&category=set_dessert&serving_g=90",
    "label-mistake": "/formulas/{formula}/label/?market=moon&serving_g=much&species=cod",
    "strangers": "/formulas/{formula}/strangers/",
    "strangers-mistake": "/formulas/{formula}/strangers/?profile=moon&low=9&high=2",
    "substitute": "/formulas/{formula}/substitute/?by=agar",
    "substitute-choose": "/formulas/{formula}/substitute/",
    "substitute-mistake": "/formulas/{formula}/substitute/?by=agrr&bloom=9",
    "blends": "/blends/",
    "briefs": "/briefs/",
    "brief": "/briefs/{brief}/",
    "brief-versions": "/briefs/{brief}/versions/",
    "brief-new": "/briefs/new/",
    "brief-mistake": "/briefs/new/?serving_c=hot&texture__word=wobbly&shelf=moon+gum&holds_c=999",
    "brief-import": "/briefs/import/",
    "pantry-lots": "/pantry/lots/",
    "lot-strength": "/pantry/lots/{lot}/strength/",
    "pantry-foods": "/pantry/foods/",
    "pantry-molds": "/pantry/molds/",
    "pantry-mold": "/pantry/molds/new/",
    "pantry-hobs": "/pantry/hobs/",
    "pantry-cold-places": "/pantry/cold-places/",
    "foods": "/foods/?search=milk",
    "food": "/foods/milk_whole/",
    "agents": "/agents/",
    "agent": "/agents/kappa_carrageenan/",
    "sources": "/sources/",
    "settings": "/settings/",
    "limits": "/limits/",
}


def serious(page: Page) -> list[str]:
    found = Axe().run(page).response["violations"]
    return [
        f"{violation['id']}: {violation['nodes'][0]['target']}"
        for violation in found
        if violation["impact"] in {"serious", "critical"}
    ]


DARK = (
    "home",
    "formula",
    "formula-mistake",
    "card",
    "agents",
    "process",
    "bench-sheet",
    "strangers",
    "label",
    "label-eu",
)
# Every so many pages are one test: a few kitchens, and work for all processors.
PARTS = 6
each_part = pytest.mark.parametrize("part", range(PARTS))


def addresses(part: int, **own: int) -> dict[str, str]:
    return {name: PAGES[name].format(**own) for name in list(PAGES)[part::PARTS]}


@each_part
def test_tablet_pages_are_accessible(tablet: Page, formula_id: dict[str, int], part: int) -> None:
    faults: dict[str, list[str]] = {}
    for name, path in addresses(part, **formula_id).items():
        response = tablet.goto(path)
        shoot(tablet, f"tablet-{name}")
        found = serious(tablet)
        if response is None or response.status != 200:
            found.append("no answer")
        if tablet.evaluate("document.documentElement.scrollWidth") > 1024:
            found.append("scrolls sideways")
        if found:
            faults[name] = found
    assert faults == {}


@each_part
def test_phone_pages_fit_the_width(phone: Page, formula_id: dict[str, int], part: int) -> None:
    wide = []
    for name, path in addresses(part, **formula_id).items():
        phone.goto(path)
        shoot(phone, f"phone-{name}")
        if phone.evaluate("document.documentElement.scrollWidth") > 390:
            wide.append(name)
    assert wide == []


def test_dark_pages_are_accessible(tablet: Page, formula_id: dict[str, int]) -> None:
    tablet.emulate_media(color_scheme="dark")
    faults = {}
    for name in DARK:
        tablet.goto(PAGES[name].format(**formula_id))
        shoot(tablet, f"dark-{name}")
        faults[name] = serious(tablet)
    assert {name: found for name, found in faults.items() if found} == {}
