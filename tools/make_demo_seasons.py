"""Write ``data/demo/seasons.toml``: when the demo's past crops came to each stage.

The days are what the engine makes of the demo's own weather, so that the invented
record and the invented weather agree.
"""

import datetime

from sheafwright.answers.outlook import outlook
from sheafwright.answers.question import Question
from sheafwright.feeds.holding import DEMO, demo_holding

STAGES = ("emergence", "ear_out", "flowering", "soft_dough")
SOWINGS = {"autumn": ("end-january", -1, 10, 10), "spring": ("alternative", 0, 2, 26)}
HEAD = """\
# When the invented crops of the demo holding came to each stage, harvest by harvest.
# Made from its invented weather by tools/make_demo_seasons.py.
"""


def main():
    holding = demo_holding()
    lines = [HEAD.rstrip()]
    for year in range(holding.as_of.year - 19, holding.as_of.year + 1):
        lines += ["", f"[{year}]"]
        lines += [
            f"{name} = {_dates(holding, year, *s)}" for name, s in SOWINGS.items()
        ]
    (DEMO / "seasons.toml").write_text("\n".join(lines) + "\n", "utf-8")


def _dates(holding, year, variety_class, before, month, day):
    said = outlook(
        Question(
            weather=holding.weather,
            columns=holding.columns,
            latitude=holding.latitude,
            altitude=holding.altitude,
            sown=datetime.date(year + before, month, day),
            variety_class=variety_class,
            as_of=datetime.date(year, 9, 15),
            summers=100,
        )
    ).to_json()
    days = ", ".join(f"{stage} = {said['stages'][stage]['p50']}" for stage in STAGES)
    return f"{{ {days} }}"


if __name__ == "__main__":
    main()
