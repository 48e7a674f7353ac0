"""Make Ann's book with damp grain from the drum: ``grain_journey_book.py FOLDER``.

A program of its own, since Django's settings hold for a whole process.
"""

import datetime
import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent), str(HERE)]
DAY = datetime.date(2026, 11, 20)


def main(folder):
    from sheafwright.server.run import prepare

    prepare(folder)
    from own_book import cut, people, sown, writer

    holding, ann = people()
    write = writer(holding, ann)
    stook_set = cut(write, sown(write))
    holding.looked_at_as_of = DAY
    holding.save()
    _threshed(write, stook_set)
    _papers(write, stook_set.cut.sowing.field)


def _threshed(write, stook_set):
    from sheafwright.records.services.harvest import carting_record
    from sheafwright.records.services.store import rick_build
    from sheafwright.records.services.threshing import Outturn, threshing_record

    built = datetime.date(2026, 8, 20)
    rick = write(rick_build, name="Barn rick", built=built, cover="roof")
    write(carting_record, stook_set=stook_set, rick=rick, date=built)
    write(
        threshing_record,
        rick=rick,
        date=datetime.date(2026, 11, 3),
        kg=6000,
        outturn=(
            Outturn("reed", 2600, "26-01", bundles=400),
            Outturn("grain", 1800, "26-02", moisture_pct=17.5),
        ),
    )


def _papers(write, field):
    from sheafwright.records.services.ground import field_status_add
    from sheafwright.records.services.inspection import certificate_add
    from sheafwright.records.services.trade import letterhead_write

    since = datetime.date(2020, 3, 1)
    write(field_status_add, field=field, way="organic", since=since)
    write(
        letterhead_write,
        since=since,
        name="Marl Hollow Flour",
        address="Combe Lane, Nether Combe",
    )
    for holder, is_own in (("Marl Hollow", True), ("Combe Mill", False)):
        write(
            certificate_add,
            holder=holder,
            is_own=is_own,
            body="Invented Organic Certification",
            code="GB-ORG-00",
            scope="cereals, flour",
            since=datetime.date(2026, 1, 1),
            expires=datetime.date(2026, 12, 31),
        )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
