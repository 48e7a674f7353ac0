"""What an answer says is kept as its words and values, and told to its reader."""

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
    )
