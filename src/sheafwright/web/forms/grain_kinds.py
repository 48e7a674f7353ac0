"""Kinds of entry about grain after the drum: dried, dressed, stored, milled, bagged."""

import datetime
import uuid

from django.utils.translation import gettext_lazy as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.grain_keeping import CAUTION
from sheafwright.answers.grain_wording import FOOD_CARE
from sheafwright.records import grain_wording, models
from sheafwright.records.models import Certificate, Lot, Milling, Order
from sheafwright.records.models.store import STRAW
from sheafwright.records.selectors.grain import flour_checks
from sheafwright.records.selectors.milled import is_spoilt_by_mill
from sheafwright.web.forms.kind import Kind

CARE_MILL = _(
    "Guards on stones and belts, no flame or spark in flour dust, a mask on. Local "
    "codes and trained people first."
)


def by_its_lot(said):
    """Straw is kept on one page, and grain, flour and bran on another."""
    return "straw" if said["lot"].kind in STRAW else "grain"


def of_the_flour(holding, said):
    """What is not done yet that comes before a lot of flour is sold.

    Of a delivery it is said where its order is for flour, whichever lot it will be.
    """
    about = models_of(Lot, holding, said.get("lot")) or models_of(
        Order, holding, said.get("order")
    )
    if about is None or about.kind != Lot.Kind.FLOUR:
        return []
    against = grain_wording.not_ready(flour_checks(holding=holding))
    return [against] if against else []


def _of_the_miller(holding, said):
    """Of what is told so far; without a day, only of who has no certificate."""
    by_whom = str(said.get("uncertified_miller") or "")
    try:
        day = datetime.date.fromisoformat(str(said.get("date")))
    except ValueError:
        return [grain_wording.not_organic_by_the_mill()] if by_whom else []
    miller = models_of(Certificate, holding, said.get("miller"))
    run = Milling(holding=holding, miller=miller, uncertified_miller=by_whom, date=day)
    return [grain_wording.not_organic_by_the_mill()] if is_spoilt_by_mill(run) else []


def models_of(model, holding, id):
    """The holding's one of this id, as somebody typed it; None if there is none."""
    try:
        found = uuid.UUID(str(id))
    except ValueError:
        return None
    return model.objects.filter(holding=holding, pk=found).first()


GRAIN_KINDS = {
    "drying": Kind(
        _("Grain dried"), models.Drying, "grain:drying_record",
        (
            "lot", "date", "how", "moisture_before_pct", "moisture_after_pct",
            "weight_kg", "after_kg", "note",
        ),
        "grain", care=_(FOOD_CARE),
    ),
    "dressing": Kind(
        _("Grain dressed"), models.Dressing, "grain:dressing_record",
        (
            "lot", "date", "machine", "weight_kg", "clean_kg", "clean_code",
            "screenings_to", "screenings_kg", "screenings_code", "note",
        ),
        "grain", care=_(FOOD_CARE),
    ),
    "store-check": Kind(
        _("A look at grain in its store"), models.StoreCheck,
        "grain:store_check_record",
        ("lot", "date", "where", "temperature_c", "moisture_pct", "found", "note"),
        "grain", care=_(CAUTION),
    ),
    "milling": Kind(
        _("A run of the mill"), models.Milling, "grain:milling_record",
        (
            "lot", "date", "flour", "miller", "uncertified_miller", "cleaned_first",
            "weight_kg", "flour_kg", "flour_code", "bran_kg", "bran_code", "added",
            "note",
        ),
        "grain", Right.RUN, care=CARE_MILL, warns=_of_the_miller,
    ),
    "flour-bags": Kind(
        _("Bags filled"), models.FlourBags, "grain:flour_bags_record",
        ("lot", "date", "bags", "bag_kg", "best_before", "note"), "grain",
    ),
    "flour-check": Kind(
        _("Something done before flour is sold"), models.FlourCheck,
        "grain:flour_check_record",
        ("what", "done", "date", "who", "until", "note"), "grain", Right.RUN,
    ),
    "grain-terms": Kind(
        _("A buyer's terms for wheat"), models.GrainTerms, "grain:grain_terms_set",
        (
            "customer", "since", "price", "moisture_most_pct", "moisture_off",
            "moisture_refused_pct", "protein_full_pct", "protein_off",
            "protein_least_pct", "hagberg_full_s", "hagberg_off", "hagberg_least_s",
            "weight_full_kg_per_hl", "weight_off", "weight_least_kg_per_hl",
            "admixture_most_pct", "note",
        ),
        "grain", Right.RUN,
    ),
    "seed-loan": Kind(
        _("Seed that somebody lent"), models.SeedLoan, "grain:seed_loan_record",
        ("seed_lot", "lender", "date", "lent_kg", "owed_kg", "back_by", "note"),
        "grain", Right.RUN,
    ),
}  # fmt: skip
