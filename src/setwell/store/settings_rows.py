"""Named settings of the kitchen."""

from setwell.store.rows import SettingRow


def setting_get(key: str) -> str:
    """Return a setting, or nothing when it was never written."""
    return SettingRow.objects.filter(key=key).values_list("value", flat=True).first() or ""


def setting_put(key: str, value: str) -> None:
    """Write a setting."""
    SettingRow.objects.update_or_create(key=key, defaults={"value": value})
