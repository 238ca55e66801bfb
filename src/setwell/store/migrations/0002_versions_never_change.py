"""Refuse any update of a saved version, whoever asks."""

from django.db import migrations

TRIGGER = """
CREATE TRIGGER store_versionrow_never_changes BEFORE UPDATE ON store_versionrow
BEGIN SELECT RAISE(ABORT, 'a saved version never changes'); END
"""


def trigger_add(apps, schema_editor):
    # Other databases need their own wording; services never update a version anywhere.
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute(TRIGGER)


def trigger_drop(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute("DROP TRIGGER IF EXISTS store_versionrow_never_changes")


class Migration(migrations.Migration):
    dependencies = [("store", "0001_initial")]
    operations = [migrations.RunPython(trigger_add, trigger_drop)]
