"""An answer is kept as words and values, and drawn for each kind of reader."""

from django.db import migrations, models

import sheafwright.feeds.telling


class Migration(migrations.Migration):
    dependencies = (("records", "0004_ground_and_plan"),)
    operations = (
        migrations.AlterField(
            model_name="savedanswer",
            name="said",
            field=models.JSONField(decoder=sheafwright.feeds.telling.Telling),
        ),
        migrations.AddField(
            model_name="savedanswer",
            name="charts",
            field=models.JSONField(default=dict),
        ),
    )
