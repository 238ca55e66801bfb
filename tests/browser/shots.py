"""Screenshots that CI keeps, for people to look at."""

from pathlib import Path

from playwright.sync_api import Page

ARTIFACTS = Path(__file__).parents[2] / "artifacts" / "screenshots"


def shoot(page: Page, name: str) -> None:
    ARTIFACTS.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=ARTIFACTS / f"{name}.png", full_page=True)
