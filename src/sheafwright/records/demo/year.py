"""What goes with the year and the ground, whatever is sown: papers, leys, cleaning."""

import datetime

from sheafwright.feeds.weather import read
from sheafwright.records.models import FieldStatus, Ley, PastCrop
from sheafwright.records.models.plan import PlanCrop
from sheafwright.records.services.ground import (
    field_status_add,
    input_apply,
    ley_add,
    past_crop_add,
)
from sheafwright.records.services.inspection import (
    certificate_add,
    cleaning_record,
    complaint_record,
    vermin_control_record,
)
from sheafwright.records.services.plan import area_want, plan_fix
from sheafwright.records.services.store import call_list_write
from sheafwright.records.services.work import gauge_reading_record

GAUGE_DAYS = 14
OLD_LEY = 4
"""Years that the ley lay already which came with new ground."""
CLEANED = (
    (7, 20, "binder and trailers", "brushed and blown"),
    (8, 1, "grain store", "swept and vacuumed, walls brushed"),
    (9, 5, "drum and comber", "opened, brushed and blown before the first rick"),
)
RATS = ((1, 12), (4, 12), (7, 12), (10, 12))
BODY = {"body": "Invented Organic Certification", "scope": "cereals, straw, flour"}


def ground_story(book, ground):
    """A field: how it is farmed, its leys, and the lime that they are given."""
    began = ground.taken_on
    happens = [
        (began, _farmed, FieldStatus.Way.CONVERTING),
        (began.replace(year=began.year + 2), _farmed, FieldStatus.Way.ORGANIC),
    ]
    happens += [
        (datetime.date(year, 9, 1), _bore_wheat, None) for year in ground.wheats_before
    ]
    for year in ground.leys:
        lay = OLD_LEY if ground.is_new else 0
        use = Ley.Use.GRAZED if ground.is_new else Ley.Use.CUT_AND_GRAZED
        sown, ploughed = datetime.date(year - lay, 4, 5), datetime.date(year, 9, 18)
        if ploughed > book.holding.looked_at_as_of:
            ploughed = None
        happens += [
            (datetime.date(year, 9, 3), _limed, None),
            (ploughed or sown, _ley, (sown, ploughed, use)),
        ]
    for day, do, said in sorted(happens, key=lambda each: each[0]):
        yield day
        do(book, ground.field, day, said)


def _farmed(book, field, day, way):
    book.write(field_status_add, f"{field} {way}", field=field, way=way, since=day)


def _bore_wheat(book, field, day, _said):
    book.write(
        past_crop_add,
        f"{field} bore {day.year}",
        field=field,
        harvest_year=day.year,
        crop=PastCrop.Crop.WHEAT,
    )


def _limed(book, field, day, _said):
    book.write(
        input_apply,
        f"{field} lime {day.year}",
        field=field,
        date=day,
        product="ground limestone",
        quantity_kg=round(2500 * field.area_ha),
        supplier="Combe Quarry",
        evidence="ground limestone, natural; on the list of what is permitted",
    )


def _ley(book, field, day, said):
    sown, ploughed, use = said
    book.write(
        ley_add,
        f"{field} ley {day.year}",
        field=field,
        what="red clover and ryegrass",
        sward=Ley.Sward.CLOVER,
        use=use,
        sown=sown,
        ploughed=ploughed,
    )


def plan_story(book, field):
    """What the plan for the next harvests is to keep to, however many are told."""
    today = book.holding.looked_at_as_of
    yield today
    book.write(
        plan_fix,
        "pinned",
        field=field,
        harvest_year=today.year + 1,
        crop=PlanCrop.OATS,
        note="to feed the horses",
    )
    book.write(
        area_want,
        "wanted",
        harvest_year=today.year + 2,
        crop=PlanCrop.ROOTS,
        most_ha=2.0,
        note="nobody to hoe more",
    )


def year_story(book, year):
    """A calendar year's papers and chores."""
    happens = [(datetime.date(year, m, d), _against_rats, ()) for m, d in RATS]
    happens += [(datetime.date(year, m, d), _clean, said) for m, d, *said in CLEANED]
    happens.append((datetime.date(year, 10, 1), _certificates, ()))
    happens.append((datetime.date(year, 1, 2), _contractor, ()))
    if year % 3 == 0:
        happens.append((datetime.date(year, 3, 20), _complain, ()))
    for day, do, said in sorted(happens, key=lambda each: each[0]):
        yield day
        do(book, day, *said)


def calls_story(book, year):
    """Whom everybody rings first when a rick heats; numbers that nobody has."""
    day = datetime.date(year - 1, 10, 1)
    yield day
    book.write(
        call_list_write,
        f"calls {day}",
        who="Fire service 999\nHazel Marl 01632 960 014\nRowan Pike 07700 900 127",
    )


def first_papers(book, year):
    """The certificate that the first season told begins under."""
    yield datetime.date(year - 1, 10, 1)
    _certificates(book, datetime.date(year - 1, 10, 1))


def _certificates(book, day):
    book.write(
        certificate_add,
        f"certificate {day.year}",
        holder=book.holding.name,
        is_own=True,
        code="XX-ORG-00",
        covers_straw=True,
        since=day,
        expires=datetime.date(day.year + 1, 9, 30),
        **BODY,
    )


def _contractor(book, day):
    book.write(
        certificate_add,
        f"contractor {day.year}",
        holder="Blackthorn Threshing",
        code="XX-ORG-00/7",
        since=day,
        expires=datetime.date(day.year, 12, 31),
        **BODY,
    )


def _against_rats(book, day):
    book.note(
        vermin_control_record,
        f"rats {day}",
        date=day,
        where="barn and grain store",
        what="traps looked at and set again; no poison",
    )


def _clean(book, day, what, how):
    book.note(cleaning_record, f"{what} {day}", date=day, what=what, how=how)


def _complain(book, day):
    book.write(
        complaint_record,
        f"complaint {day}",
        date=day,
        who="Bram Tolliver, thatcher",
        what="a few bundles short in the stem",
        done="looked at together; six bundles taken back as long straw",
    )


def gauge_story(book, invented):
    """The grower's own gauge over the last fortnight; it agrees with the record."""
    first = invented.as_of - datetime.timedelta(GAUGE_DAYS - 1)
    record = read(invented.weather, invented.columns).between(first, invented.as_of)
    for number, fell in enumerate(record.values["rain"].tolist()):
        day = first + datetime.timedelta(number)
        yield day
        book.note(gauge_reading_record, f"gauge {day}", date=day, rain_mm=fell)
