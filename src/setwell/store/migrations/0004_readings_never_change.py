"""Refuse any update of a reading of a saved version, whoever asks."""

from django.db import migrations

TRIGGER = """
CREATE TRIGGER store_versionreadingrow_never_changes BEFORE UPDATE ON store_versionreadingrow
BEGIN SELECT RAISE(ABORT, 'a reading of a version never changes'); END
"""


def trigger_add(apps, schema_editor):
    # Other databases need their own wording; services never update a reading anywhere.
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute(TRIGGER)


def trigger_drop(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute("DROP TRIGGER IF EXISTS store_versionreadingrow_never_changes")


class Migration(migrations.Migration):
    dependencies = [("store", "0003_ph_readings")]
    operations = [migrations.RunPython(trigger_add, trigger_drop)]
