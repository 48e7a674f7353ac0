"""An issued paper as it is printed, from what was kept of it alone."""

import datetime
from decimal import Decimal

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from sheafwright.answers.organic import IN_CONVERSION, ORGANIC
from sheafwright.documents.trade_paper import Fact, TradePaper
from sheafwright.records.models import HandGrade, Lot, Paper
from sheafwright.records.models.grading import Use
from sheafwright.records.models.store import STRAW
from sheafwright.records.money import exact, said, said_exactly
from sheafwright.records.papers.roof_facts import sizes_told
from sheafwright.records.papers.trade_facts import HAULAGE

Kind = Paper.Kind
PRICED = (Kind.QUOTATION, Kind.ORDER, Kind.INVOICE, Kind.CREDIT)
MEASURED = {
    "moisture_pct": (gettext_lazy("Moisture"), "{:g}%"),
    "protein_pct": (gettext_lazy("Protein in dry matter"), "{:g}%"),
    "hagberg_s": (gettext_lazy("Hagberg falling number"), "{:g} s"),
    "specific_weight_kg_per_hl": (gettext_lazy("Specific weight"), "{:g} kg/hl"),
    "admixture_pct": (gettext_lazy("Admixture"), "{:g}%"),
}


def trade_paper_of(paper, address_of=None, *, with_prices=True):
    """The `TradePaper` of an issued paper.

    Parameters
    ----------
    paper : Paper
    address_of : callable, optional
        From a lot's id to the whole address of its page, for a certificate.
    with_prices : bool
        Whether for somebody who may know them; an inspector may not.
    """
    lines = paper.said.get("lines", [])
    priced = paper.kind in PRICED and with_prices
    if not with_prices:
        lines = [line for line in lines if line.get("kind") in Lot.Kind.values]
    headings, numbers = (_priced_headings if priced else _goods_headings)()
    row = _priced_row if priced else _goods_row
    walked = address_of and paper.kind == Kind.CERTIFICATE and paper.lot_id
    return TradePaper(
        title=str(paper.get_kind_display()).capitalize(),
        code=paper.code,
        made_on=paper.date,
        seller=_seller(paper.said.get("seller") or {"name": str(paper.holding)}),
        customer=_customer(paper.said.get("customer") or {}),
        facts=tuple(_facts(paper)),
        headings=headings,
        rows=tuple(row(paper, line) for line in lines),
        numbers=numbers,
        totals=tuple(_totals(paper)) if priced else (),
        statements=tuple(_statements(paper) if with_prices else _without(paper)),
        to_sign=tuple(_to_sign(paper)),
        walk_back_url=address_of(paper.lot_id) if walked else "",
    )


def _seller(told):
    vat = told.get("vat_number")
    return (
        told["name"],
        told.get("address", ""),
        _("VAT number %(number)s") % {"number": vat} if vat else "",
    )


def _customer(told):
    vat = told.get("vat_number")
    return (
        told.get("name", ""),
        told.get("address", ""),
        _("VAT number %(number)s") % {"number": vat} if vat else "",
    )


def _facts(paper):
    told = paper.said
    yield Fact(_("Date"), _day(paper.date))
    yield from _written(
        (_("Open until"), _day_of(told.get("open_until"))),
        (_("To pay by"), _day_of(told.get("due"))),
        (_("Order"), told.get("of_order")),
        (_("Corrects invoice"), _corrected(told)),
        (_("Why"), told.get("why")),
        (_("Not before"), _day_of(told.get("wanted_from"))),
        (_("Wanted by"), _day_of(told.get("wanted_by"))),
        (_("Roof"), told.get("roof")),
        (_("Roof, measured"), sizes_told(told.get("roof_sizes"))),
        (_("Delivered to"), one_line(told.get("deliver_to"))),
        (_("Driver and vehicle"), told.get("vehicle")),
        (_("Stems from"), _cm(told.get("least_length_cm"))),
        (_("Grades"), told.get("grades")),
        (_("Varieties"), told.get("varieties")),
        (_("Organic alone"), told.get("organic") and _("yes")),
        *_own_rules(paper),
        (_("Grown on"), ", ".join(told.get("fields", []))),
        (_("Sown"), ", ".join(map(_day_of, told.get("sown", [])))),
    )
    yield from OF_KIND.get(paper.kind, _nothing)(paper)


def _written(*pairs):
    return (Fact(what, str(value)) for what, value in pairs if value)


def one_line(address):
    """An address in one line."""
    return ", ".join(part.strip() for part in (address or "").splitlines() if part)


def _corrected(told):
    if "of_invoice" not in told:
        return ""
    return _("%(code)s of %(day)s") % {
        "code": told["of_invoice"],
        "day": _day_of(told["of_date"]),
    }


def _nothing(_paper):
    return ()


def _of_grain(paper):
    yield from _measured(paper)
    yield Fact(_("Treated after harvest with"), "")
    yield Fact(_("The lorry's last three loads"), "")
    yield Fact(_("Cleaned by, and how"), "")


def _of_organic(paper):
    seller, customer = paper.said["seller"], paper.said.get("customer") or {}
    [line] = paper.said["lines"]
    is_straw = line["kind"] in STRAW
    covered = seller.get("organic_covers_straw")
    yield from _written(
        (_("Seller's control body"), seller.get("organic_body")),
        (_("Its code"), seller.get("organic_code")),
        (_("Sold as"), _sold_as(line)),
        (
            _("Straw on the certificate"),
            is_straw and (_("yes") if covered else _("no")),
        ),
    )
    yield Fact(_("Buyer's organic reference"), customer.get("organic_reference", ""))


def _of_certificate(paper):
    [line] = paper.said["lines"]
    heights = paper.said.get("heights_cm", [])
    seller = paper.said["seller"]
    sold_as = _sold_as(line)
    yield from _written(
        (_("Variety"), line["variety"]),
        (_("Harvest"), line["harvest_year"]),
        (_("Grade as written down"), line["grade"]),
        (_("Lot's length"), _cm(line["length_cm"])),
        *_graded(paper.said),
        (_("Stems measured, one by one"), _stems(paper.said.get("stems"))),
        *_means(paper.said.get("stems")),
        (_("A handful"), _handful(paper.said.get("handful"))),
        (_("Crop stood"), _between(heights)),
        (_("Organic"), sold_as and f"{sold_as}, {seller.get('organic_code', '')}"),
    )
    yield from _measured(paper)


GRADES = {
    "first": gettext_lazy("grade 1 for %(use)s"),
    "second": gettext_lazy("grade 2 for %(use)s"),
    "below": gettext_lazy("below grade 2 for %(use)s"),
}
MEANS = (
    ("length_mm", gettext_lazy("Mean length"), 10, "{:.1f}", gettext_lazy("cm")),
    ("butt_mm", gettext_lazy("Mean butt"), 1, "{:.2f}", gettext_lazy("mm")),
    (
        "taper_mm_per_m",
        gettext_lazy("Mean taper"),
        1,
        "{:.2f}",
        gettext_lazy("mm in a metre"),
    ),
    (
        "brightness",
        gettext_lazy("Mean brightness"),
        1,
        "{:.0f}",
        gettext_lazy("of 100"),
    ),
    ("bends", gettext_lazy("Mean bends"), 1, "{:.2f}", gettext_lazy("in a stem")),
)
"""Of each mean: what it is, what it is divided by, how it is written, its unit."""


def _graded(told):
    """The grade by its stems, and the rule that says so."""
    graded = told.get("graded")
    if not graded:
        return
    words = _("%(grade)s, with %(sure).0f%% confidence")
    if graded["own_rule"]:
        words = _("%(grade)s, with %(sure).0f%% confidence, by the buyer's own rule")
    grade = GRADES[graded["grade"]] % {"use": Use(graded["use"]).label}
    yield (
        _("Grade by its stems"),
        words % {"grade": grade, "sure": 100 * graded["sure"]},
    )
    for rule in told.get("grade_rules", ()):
        yield _("The rule"), _rule(rule)


def _own_rules(paper):
    """The buyer's own, where straw is offered or ordered."""
    if paper.kind in (Kind.QUOTATION, Kind.ORDER):
        for rule in paper.said.get("grade_rules", ()):
            yield (
                _("Buyer's rule for %(use)s") % {"use": Use(rule["use"]).label},
                _rule(rule),
            )


def _rule(rule):
    words = _(
        "stems %(short)g to %(long)g cm, butts %(thin)g to %(thick)g mm, no more than "
        "%(bends)g bends and %(damage)g damaged parts; grade 1 asks that of "
        "%(first).0f%% of them, grade 2 of %(second).0f%%"
    )
    if not rule["bends_most"] and not rule["damage_most"]:
        words = _(
            "stems %(short)g to %(long)g cm, butts %(thin)g to %(thick)g mm, no bends "
            "and no damage; grade 1 asks that of %(first).0f%% of them, grade 2 of "
            "%(second).0f%%"
        )
    return words % {
        "short": rule["length_least_mm"] / 10,
        "long": rule["length_most_mm"] / 10,
        "thin": rule["butt_least_mm"],
        "thick": rule["butt_most_mm"],
        "bends": rule["bends_most"],
        "damage": rule["damage_most"],
        "first": 100 * rule["first_share"],
        "second": 100 * rule["second_share"],
    }


def _means(stems):
    """Means over bundles, each with how sure it is."""
    for name, what, by, pattern, unit in MEANS:
        told = (stems or {}).get("means", {}).get(name)
        if told is None:
            continue
        mean, low, high = (None if v is None else pattern.format(v / by) for v in told)
        words = _("%(mean)s %(unit)s")
        if low is not None:
            words = _("%(mean)s %(unit)s (%(low)s to %(high)s, %(sure)g in 100)")
        yield (
            str(what),
            words
            % {
                "mean": mean,
                "unit": unit,
                "low": low,
                "high": high,
                "sure": 100 * stems.get("confidence", 0.95),
            },
        )


def _stems(stems):
    """How many, how long and how thick: a tenth is below the first, and above the
    last."""
    if not stems:
        return ""
    parts = [
        ngettext("%(count)d stem", "%(count)d stems", stems["count"])
        % {"count": stems["count"]}
    ]
    if stems.get("bundles"):
        parts.append(
            ngettext("%(count)d bundle", "%(count)d bundles", stems["bundles"])
            % {"count": stems["bundles"]}
        )
    for name, words, unit in (
        ("length_mm", _("%(low)s to %(high)s, middle %(middle)s"), 10),
        ("butt_mm", _("butts %(low)s to %(high)s, middle %(middle)s"), 1),
    ):
        if name in stems:
            low, middle, high = (
                f"{value / unit:.3g} {'cm' if unit == 10 else 'mm'}"
                for value in stems[name]
            )
            parts.append(words % {"low": low, "middle": middle, "high": high})
    return ", ".join(parts)


def _handful(signs):
    """What it showed, in the words of its form."""
    said_of = (
        str(dict(HandGrade._meta.get_field(name).flatchoices).get(value, value))
        for name, value in (signs or {}).items()
        if value
    )
    return ", ".join(said_of)


def _measured(paper):
    for name, value in paper.said.get("measured", {}).items():
        what, pattern = MEASURED[name]
        yield Fact(str(what), pattern.format(value))


OF_KIND = {
    Kind.GRAIN: _of_grain,
    Kind.ORGANIC: _of_organic,
    Kind.CERTIFICATE: _of_certificate,
}


def _priced_headings():
    return (
        (_("What"), _("Weight"), _("A tonne"), _("VAT"), _("Net")),
        (1, 2, 3, 4),
    )


def _priced_row(paper, line):
    price = line.get("price_per_t")
    return (
        what_of(line),
        _kg(line.get("kg")),
        said_exactly(exact(price), paper.currency) if price else "",
        f"{exact(line['vat_pct']).normalize():f}%",
        said(exact(line["net"]), paper.currency),
    )


def _goods_headings():
    return (
        (_("What"), _("Lot"), _("Bundles"), _("Weight")),
        (2, 3),
    )


def _goods_row(_paper, line):
    bundles = line.get("bundles")
    return (
        what_of(line, with_lot=False),
        line.get("lot", ""),
        f"{bundles:,}" if bundles else "",
        _kg(line.get("kg")),
    )


def what_of(line, with_lot=True):
    """What a line is of."""
    kind = line.get("kind")
    if kind == HAULAGE:
        return _("Haulage")
    if kind == "part":
        return _("Part of the invoice")
    parts = [str(dict(Lot.Kind.choices).get(kind, kind)).capitalize()]
    if line.get("variety"):
        parts.append(f"{line['variety']} {line['harvest_year']}")
    if line.get("lot") and with_lot:
        parts.append(_("lot %(lot)s") % {"lot": line["lot"]})
    if line.get("grade"):
        parts.append(line["grade"])
    return ", ".join(parts)


def _totals(paper):
    currency = paper.currency
    yield Fact(_("Net"), said(paper.net, currency))
    for rate, net, vat in paper.said.get("rates", []):
        yield Fact(
            _("VAT at %(rate)s%% of %(net)s")
            % {
                "rate": f"{exact(rate).normalize():f}",
                "net": said(exact(net), currency),
            },
            said(exact(vat), currency),
        )
    words = {
        Kind.CREDIT: _("Credited"),
        Kind.INVOICE: _("To pay"),
    }
    yield Fact(words.get(paper.kind, _("In all")), said(paper.gross, currency))


def _statements(paper):
    seller = paper.said.get("seller", {})
    if paper.kind == Kind.INVOICE and seller.get("pay_to"):
        yield _("Please pay to: %(how)s. Name the invoice, %(code)s.") % {
            "how": one_line(seller["pay_to"]),
            "code": paper.code,
        }
    yield from STATEMENTS.get(paper.kind, list)()


def _without(paper):
    """What a paper says besides, to whoever may not know its prices."""
    if paper.kind in PRICED:
        yield _("A copy without prices, haulage and how it is paid.")
    else:
        yield from STATEMENTS.get(paper.kind, list)()


def _no_standard():
    return _(
        "There is no public standard for thatching straw; what is said here was "
        "measured or seen on the farm."
    )


STATEMENTS = {
    Kind.QUOTATION: lambda: [
        _("Straw is a harvest: what is offered is held only once it is ordered."),
    ],
    Kind.DELIVERY: lambda: [
        _("Count the bundles and feel for damp before you sign."),
        _(
            "Bundles slip: keep off the load, and let nobody stand beside it while "
            "ropes are loosed. Local codes and trained people first."
        ),
    ],
    Kind.GRAIN: lambda: [
        _(
            "Sampled, and stored clean, dry and free of vermin, to the best of our "
            "knowledge."
        ),
    ],
    Kind.ORGANIC: lambda: [
        _(
            "We declare that what this statement names was grown and kept under the "
            "certificate named, apart from all that was not."
        ),
    ],
    Kind.CERTIFICATE: lambda: [_no_standard()],
}


def _to_sign(paper):
    if paper.kind == Kind.DELIVERY:
        return _("Received by, and on what day"), _("Bundles counted, and found dry")
    if paper.kind in (Kind.GRAIN, Kind.ORGANIC):
        return _("For the seller"), _("For the buyer, or the lorry")
    if paper.kind == Kind.CERTIFICATE:
        return (_("For the grower"),)
    return ()


def _sold_as(line):
    words = {ORGANIC: _("organic"), IN_CONVERSION: _("in conversion to organic")}
    return words.get(line.get("sold_as"), "")


def _between(heights):
    if not heights:
        return ""
    low, high = heights
    if low == high:
        return _cm(low)
    return _("%(low)s to %(high)s") % {"low": _cm(low), "high": _cm(high)}


def _cm(value):
    return f"{value:g} cm" if value else ""


def _kg(value):
    """As it was weighed, to the gram that the book keeps, without idle noughts."""
    if value is None:
        return ""
    return f"{Decimal(value).normalize():,f} kg"


def _day(date):
    return date_format(date, "j F Y")


def _day_of(text):
    return _day(datetime.date.fromisoformat(text)) if text else ""
