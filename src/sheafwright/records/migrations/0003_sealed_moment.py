from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0002_rules_of_the_book")]
    operations = [
        # The column stays as it is: to alter it, SQLite would make the table anew and
        # lose the rules that are tied to it.
        migrations.SeparateDatabaseAndState(
            state_operations=[
                migrations.AlterField(
                    "movement", "made_at", models.DateTimeField(editable=False)
                )
            ]
        )
    ]
