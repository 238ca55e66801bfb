"""Refuse any update of a texture reading, of a lot check and of a ruling on them."""

from django.db import migrations

TABLES = {
    "store_texturereadingrow": "a texture reading never changes",
    "store_texturerulingrow": "a ruling on a texture reading never changes",
    "store_lotcheckrow": "a lot check never changes",
    "store_lotcheckrulingrow": "a ruling on a lot check never changes",
}
TRIGGER = """
CREATE TRIGGER {table}_never_changes BEFORE UPDATE ON {table}
BEGIN SELECT RAISE(ABORT, '{message}'); END
"""


def triggers_add(apps, schema_editor):
    # Other databases need their own wording; services never update these rows anywhere.
    if schema_editor.connection.vendor == "sqlite":
        for table, message in TABLES.items():
            schema_editor.execute(TRIGGER.format(table=table, message=message))


def triggers_drop(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        for table in TABLES:
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {table}_never_changes")


class Migration(migrations.Migration):
    dependencies = [("store", "0005_texture_readings")]
    operations = [migrations.RunPython(triggers_add, triggers_drop)]
