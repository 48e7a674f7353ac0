"""The demo's buyers and orders of its last year: asked, quoted, delivered, paid."""

import datetime
from decimal import Decimal

from sheafwright.records.models import Lot, Place
from sheafwright.records.selectors.orders import invoice_now
from sheafwright.records.services.grading import grade_rule_set
from sheafwright.records.services.papers import invoice_issue, lot_paper_issue
from sheafwright.records.services.trade import (
    customer_add,
    customer_wants_say,
    delivery_record,
    enquiry_record,
    letterhead_write,
    order_take,
    payment_record,
    quotation_make,
    reserve,
    roof_report_record,
    visit_record,
)

WITHY_BARN = {
    "outline_m": [[0, 0], [8, 0], [8, 4], [4, 4], [4, 8], [0, 8]],
    "pitch_deg": 50,
    "ends": "gable",
    "work": "over_coat",
}
"""An L of some eight squares."""
BUYERS = {
    "orla": {
        "name": "Orla Quince",
        "trade": "thatcher",
        "address": "Ridge Cottage\nWithy Lane",
        "distance_km": 18.0,
        "bearing": "ne",
    },
    "nell": {
        "name": "Nell Ash",
        "trade": "thatcher",
        "address": "The Forge\nOver Combe",
        "distance_km": 31.0,
        "bearing": "n",
    },
    "mill": {
        "name": "Sallow Ford Mill",
        "trade": "miller",
        "address": "Sallow Ford",
        "organic_reference": "XX-ORG-00/12",
        "distance_km": 9.0,
        "bearing": "w",
    },
}
TERMS = {"price_per_t": Decimal("1350.00"), "vat_pct": Decimal(20)}
SENT_KG, BUNDLE_KG = 600, 6.35


def trade_story(book, year):
    """Two orders, one part delivered and paid, and what somebody asks about."""
    made = {}
    for (month, day), do in STORY:
        on = datetime.date(year, month, day)
        yield on
        do(book, made, on)


def _begin(book, made, day):
    book.write(
        letterhead_write,
        "letterhead",
        since=day,
        name=book.holding.name,
        address="Combe Lane",
        vat_number="GB 000 0000 00",
        pay_to="Invented Bank, 00-00-00, 00000000",
    )
    for name, told in BUYERS.items():
        person = book.buyer if told["name"] == book.buyer.name else None
        made[name] = book.write(customer_add, f"buyer {name}", person=person, **told)
    book.write(
        customer_wants_say,
        "orla likes",
        customer=made["orla"],
        since=day,
        kind=Lot.Kind.REED,
        least_length_cm=90.0,
        first_refusal=True,
        from_month=3,
        to_month=9,
    )
    book.write(
        customer_wants_say,
        "nell likes",
        customer=made["nell"],
        since=day,
        kind=Lot.Kind.REED,
        least_length_cm=80.0,
        organic=True,
        most_lots=2,
        from_month=4,
        to_month=6,
    )
    book.write(
        grade_rule_set,
        "orla's rule",
        use="coatwork",
        buyer_name=BUYERS["orla"]["name"],
        length_least_cm=90.0,
    )


def _looks(book, made, day):
    lot = _most_reed(book)
    book.write(
        visit_record,
        "orla looks",
        customer=made["orla"],
        date=day,
        lot=lot,
        looked_at="six bundles from the top, one from the heart",
        would_take_kg=900.0,
        said="stiff enough; a few ears left",
        handful="tied and labelled over the bench",
    )
    if lot:
        book.write(
            roof_report_record,
            "orla tells",
            customer=made["orla"],
            lot=lot,
            date=day,
            roof="the linhay at Withy Lane, south side",
            laid=day.year,
            state="sound",
        )


def _orders(book, made, day):
    made["order"] = book.write(
        order_take,
        "orla orders",
        customer=made["orla"],
        date=day,
        kind=Lot.Kind.REED,
        weight_kg=900.0,
        haulage=Decimal("45.00"),
        haulage_vat_pct=Decimal(20),
        wanted_by=datetime.date(day.year, 9, 30),
        least_length_cm=90.0,
        roof="Mill House",
        **TERMS,
    )


def _sends(book, made, day):
    lot = _most_reed(book)
    kg = min(SENT_KG, int(book.kg_of(lot))) if lot else 0
    if not kg:
        return
    made["sent"] = book.write(
        delivery_record,
        "orla is sent",
        order=made["order"],
        lot=lot,
        date=day,
        kg=kg,
        bundles=round(kg / BUNDLE_KG),
        vehicle="Rowan Pike, the green trailer",
    )
    book.write(
        lot_paper_issue,
        "orla's certificate",
        delivery=made["sent"],
        kind="certificate",
        date=day,
    )


def _bills(book, made, day):
    if "sent" in made:
        made["invoice"] = book.write(
            invoice_issue, "orla's invoice", order=made["order"], date=day
        )


def _pays(book, made, day):
    if "invoice" in made:
        book.write(
            payment_record,
            "orla pays",
            invoice=made["invoice"],
            date=day,
            amount=invoice_now(made["invoice"]).owed,
        )


def _nell_orders(book, made, day):
    order = book.write(
        order_take,
        "nell orders",
        customer=made["nell"],
        date=day,
        kind=Lot.Kind.REED,
        weight_kg=3000.0,
        wanted_from=datetime.date(day.year, 11, 1),
        wanted_by=datetime.date(day.year + 1, 4, 30),
        least_length_cm=80.0,
        **TERMS,
    )
    lot = _most_reed(book)
    if lot:
        book.write(
            reserve,
            "nell's is kept",
            order=order,
            lot=lot,
            date=day,
            weight_kg=min(300.0, book.kg_of(lot)),
        )


def _asks(book, made, day):
    made["asked"] = book.write(
        enquiry_record,
        "orla asks",
        customer=made["orla"],
        date=day,
        kind=Lot.Kind.REED,
        roof_plan=WITHY_BARN,
        roof="Withy Barn",
        wanted_by=datetime.date(day.year + 1, 5, 31),
        least_length_cm=90.0,
    )


def _quotes(book, made, day):
    book.write(
        quotation_make,
        "orla is quoted",
        enquiry=made["asked"],
        date=day,
        open_until=datetime.date(day.year, 10, 31),
        weight_kg=round(made["asked"].weight_kg),
        **TERMS,
    )


def _most_reed(book):
    """Of the reed that may be sold, the lot that most is left of; None for none."""
    held = Place.objects.filter(
        holding=book.holding, kind=Place.Kind.LOT, balance__grams__gt=0
    ).order_by("-balance__grams")
    lots = Lot.objects.filter(kind=Lot.Kind.REED, set_apart=False).in_bulk(
        [place.subject for place in held]
    )
    return next((lots[p.subject] for p in held if p.subject in lots), None)


STORY = (
    ((5, 20), _begin),
    ((5, 28), _looks),
    ((6, 2), _orders),
    ((6, 10), _sends),
    ((6, 12), _bills),
    ((7, 8), _pays),
    ((7, 14), _nell_orders),
    ((7, 22), _asks),
    ((7, 28), _quotes),
)
