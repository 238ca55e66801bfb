"""Briefs and their versions; a saved version never changes."""

import django.db.models.deletion
from django.db import migrations, models

TRIGGER = """
CREATE TRIGGER store_briefversionrow_never_changes BEFORE UPDATE ON store_briefversionrow
BEGIN SELECT RAISE(ABORT, 'a version of a brief never changes'); END
"""


def trigger_add(apps, schema_editor):
    # Other databases need their own wording; services never update a version anywhere.
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute(TRIGGER)


def trigger_drop(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute("DROP TRIGGER IF EXISTS store_briefversionrow_never_changes")


class Migration(migrations.Migration):

    dependencies = [
        ('store', '0008_probe_logs'),
    ]

    operations = [
        migrations.CreateModel(
            name='BriefRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('created_at', models.DateTimeField()),
                ('put_away', models.BooleanField(default=False)),
            ],
        ),
        migrations.CreateModel(
            name='BriefVersionRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('number', models.PositiveIntegerField()),
                ('content_hash', models.CharField(db_index=True, max_length=64)),
                ('document', models.TextField()),
                ('title', models.CharField(max_length=120)),
                ('title_key', models.CharField(db_index=True, max_length=400)),
                ('saved_at', models.DateTimeField()),
                ('brief', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='versions', to='store.briefrow')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('brief', 'number'), name='brief_number_once')],
            },
        ),
        migrations.RunPython(trigger_add, trigger_drop),
    ]
