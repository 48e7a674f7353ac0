"""Make Ann's book on a harvest day, its plan made: ``crew_day_book.py FOLDER``.

A program of its own, since Django's settings hold for a whole process.
"""

import datetime
import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent), str(HERE)]


def main(folder):
    from sheafwright.server.run import prepare

    prepare(folder)
    from own_book import people as members
    from own_book import writer

    from crew_book import DAY, binder, dates, keep, outlook, people, stooks, turns
    from sheafwright.records.fill import fill_crew
    from sheafwright.records.services.harvest import cut_record

    holding, ann = members()
    holding.looked_at_as_of = DAY
    holding.save()
    write = writer(holding, ann)
    standing = _sown(write, "Hanger", 2.0)
    keep(holding, "outlook", standing, outlook(0.8, 0.75, 0.7, 0.6, 0.5))
    keep(holding, "turns", holding, turns({"Hanger": 0.2}, dates(3)[-1]))
    cut = _sown(write, "Sheepcote", 1.0)
    day = DAY - datetime.timedelta(12)
    cut = write(cut_record, sowing=cut, date=day, area_ha=1.0, sheaves=1000)
    keep(holding, "stooks", cut.stook_set, stooks(0.9, 0.5))
    people(write, ("Ann", "Ben", "Dan", "Una"))
    binder(write)
    fill_crew(holding)


def _sown(write, name, area_ha):
    from sheafwright.records.services.crop import sowing_record
    from sheafwright.records.services.ground import field_create
    from sheafwright.records.services.seed import seed_lot_add

    seed = {"variety": "Maris Widgeon", "came": "bought", "standing": "organic"}
    return write(
        sowing_record,
        field=write(field_create, name=name, area_ha=area_ha),
        seed_lot=write(seed_lot_add, name=f"{name} seed", **seed),
        date=datetime.date(2025, 10, 12),
        harvest_year=2026,
        area_ha=area_ha,
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
