"""Make a book in a folder, Ann's own holding and the demo's: ``own_book.py FOLDER``.

A program of its own, since Django's settings hold for a whole process.
"""

import datetime
import sys
import uuid
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
PASSWORD = "stooks-of-wheat-26"
TODAY = datetime.date(2026, 8, 5)


def main(folder):
    from sheafwright.server.run import prepare

    prepare(folder)
    holding, ann = people()
    write = writer(holding, ann)
    sowing = sown(write)
    stook_set = cut(write, sowing)
    stacked(write, stook_set)
    demo(ann)


def people():
    from sheafwright.accounts.services import (
        holding_create,
        membership_set,
        person_create,
    )

    made = {
        name: person_create(
            email=f"{name.lower()}@example.org", name=name, password=PASSWORD
        )
        for name in ("Ann", "Ben", "Cleo")
    }
    holding = holding_create(name="Marl Hollow", made_by=made["Ann"], latitude_deg=52.4)
    holding.looked_at_as_of = TODAY
    holding.save()
    membership_set(person=made["Ben"], holding=holding, role="hand")
    holding_create(name="Far Edge", made_by=made["Cleo"])
    return holding, made["Ann"]


def writer(holding, made_by):
    def write(service, **said):
        return service(id=uuid.uuid4(), holding=holding, made_by=made_by, **said)

    return write


def sown(write):
    from sheafwright.records.services.crop import observation_record, sowing_record
    from sheafwright.records.services.ground import field_create
    from sheafwright.records.services.seed import seed_lot_add

    field = write(field_create, name="Long Meadow", area_ha=2.0)
    seed = write(
        seed_lot_add,
        name="W-25",
        variety="Maris Widgeon",
        came="bought",
        standing="organic",
    )
    sowing = write(
        sowing_record,
        field=field,
        seed_lot=seed,
        date=datetime.date(2025, 10, 12),
        harvest_year=2026,
        area_ha=2.0,
    )
    flowered = datetime.date(2026, 6, 18)
    write(observation_record, sowing=sowing, date=flowered, stage="flowering")
    return sowing


def cut(write, sowing):
    from sheafwright.records.services.crop import meter_reading_record
    from sheafwright.records.services.harvest import crop_expect, cut_record

    write(crop_expect, sowing=sowing, date=datetime.date(2026, 7, 1), kg=12_000)
    first = write(
        cut_record,
        sowing=sowing,
        date=datetime.date(2026, 7, 28),
        area_ha=0.5,
        sheaves=600,
    )
    at = datetime.datetime(2026, 8, 4, 11, tzinfo=datetime.UTC)
    write(meter_reading_record, stook_set=first.stook_set, at=at, grain_pct=17.5)
    return first.stook_set


def stacked(write, stook_set):
    from sheafwright.records.services.harvest import carting_record
    from sheafwright.records.services.store import rick_build, rick_reading_record

    built = datetime.date(2026, 8, 4)
    rick = write(rick_build, name="Barn rick", built=built, cover="roof")
    write(carting_record, stook_set=stook_set, rick=rick, date=built, kg=900)
    for hour, temperature_c in ((8, 52), (18, 71)):
        at = datetime.datetime(2026, 8, 4, hour, tzinfo=datetime.UTC)
        write(rick_reading_record, rick=rick, at=at, temperature_c=temperature_c)


def demo(owner):
    """A short demo, with its answers, which Ann may open too."""
    from sheafwright.accounts.services import membership_set
    from sheafwright.records.demo import demo_make
    from sheafwright.records.fill import fill_due

    holding = demo_make(seasons=2).holding
    membership_set(person=owner, holding=holding, role="owner")
    traced(writer(holding, owner), holding)
    fill_due(holding)


def traced(write, holding):
    """A photograph of some reed, which nobody has looked at yet."""
    from photographs import good
    from sheafwright.records.clock import today
    from sheafwright.records.models import Lot
    from sheafwright.records.services.tracings import tracing_measure

    lot = Lot.objects.filter(holding=holding, kind=Lot.Kind.REED).first()
    write(tracing_measure, lot=lot, date=today(holding), photos=[good()])


if __name__ == "__main__":
    main(Path(sys.argv[1]))
