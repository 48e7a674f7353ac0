from django.http import Http404
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.answers.order_loads import CAUTION
from sheafwright.answers.orders_wording import promise
from sheafwright.feeds.telling import first_sentence, joined, told
from sheafwright.records import trade_wording as wording
from sheafwright.records.clock import today
from sheafwright.records.models import Customer, Paper
from sheafwright.records.papers.bills import BILLS, bill_of, bills_of
from sheafwright.records.papers.trade_paper import trade_paper_of
from sheafwright.records.selectors.allotment import allotment
from sheafwright.records.selectors.on_the_road import loads_of
from sheafwright.records.selectors.orders import (
    likes,
    orders_now,
    papers_of,
    quotation_of,
)
from sheafwright.web.access import for_right
from sheafwright.web.forms.book import year_to
from sheafwright.web.order_steps import its_roof, next_steps, of_enquiry
from sheafwright.web.roofs import describe_actions
from sheafwright.web.sheets import Action, Fold, Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import (
    UNKNOWN,
    height_cm,
    kg,
)
from sheafwright.web.trade_tables import (
    buyer_link,
    currencies_told,
    order_link,
    papers_table,
    rate_actions,
    unbroken,
)
from sheafwright.web.views.papers import as_file, period_of

MOST_PAPERS, OPEN_PAPERS, MOST_BUYERS = 20, 5, 30
ALWAYS = ("enquiry", "order", "customer", "visit", "roof-report", "letterhead")


@for_right(Right.SEE_TRADE)
def orders(request):
    allotted = allotment(holding=request.membership.holding)
    first, rest = _headline(allotted)
    sections = (
        _gets(request, allotted),
        *(_order(request, allotted, name) for name in _in_turn(allotted)),
        *(_enquiry(request, allotted, name) for name in allotted.enquiries),
        _loads(request.membership.holding, allotted),
        _papers(request),
        _buyers(request),
        Section(
            actions=(
                *(a for kind in ALWAYS for a in write_action(request, kind)),
                *describe_actions(request),
            )
        ),
    )
    return sheet(
        request,
        Sheet(
            title=_("Orders"),
            answer=first,
            odds=rest,
            sections=tuple(each for each in sections if each),
        ),
    )


def _headline(allotted):
    """What to deliver or to allot next, and what is oversold."""
    if allotted.refused:
        return first_sentence(allotted.refused)
    answer, now = allotted.answer, allotted.orders.values()
    over = joined(*(each.sentence for each in answer.oversold))
    if answer.next is None or not answer.next.asked.promised:
        for each in now:
            if each.uninvoiced:
                return wording.to_invoice(each), over
        for each in now:
            if each.owed > 0:
                return wording.owed_by(each), over
        if not any(each.asked.promised for each in answer.orders):
            asked = len(allotted.enquiries)
            return (
                wording.only_enquiries(asked) if asked else wording.no_orders()
            ), over
    return first_sentence(answer.sentence)


def _gets(request, allotted):
    """Who gets what, and how surely."""
    if not allotted.answer or not allotted.answer.orders:
        return None
    units = request.user.units
    columns = (
        Column(_("Order")),
        Column(_("Buyer")),
        Column(_("Still to go"), True),
        Column(_("Gets")),
        Column(_("When")),
    )
    rows = tuple(
        (
            _name(request, allotted, each.asked.name),
            each.asked.customer,
            kg(each.asked.kg, units),
            _lots(each, units),
            promise(each),
        )
        for each in allotted.answer.orders
    )
    return Section(
        heading=_("Who gets what"),
        is_danger=bool(allotted.answer.oversold),
        more=(
            *(each.sentence for each in allotted.answer.oversold),
            *currencies_told(allotted.weighed),
        ),
        sentence=wording.left_out(allotted.left_out) if allotted.left_out else "",
        table=Table(columns, rows),
        fold=_reasons(allotted),
        actions=tuple(rate_actions(request, allotted.weighed)),
        working=allotted.answer.working,
    )


def _name(request, allotted, name):
    """An order's number, with the way to it; of an enquiry its own."""
    now = allotted.orders.get(name)
    return order_link(request, now.order, unbroken(name)) if now else unbroken(name)


def _lots(told_of, units):
    parts = [
        _("%(weight)s of %(lot)s") % {"weight": kg(amount, units), "lot": lot}
        for lot, amount in told_of.given.items()
    ]
    return ", ".join(parts) or UNKNOWN


def _reasons(allotted):
    sentences = [
        joined(f"{each.asked.name}:", *each.why)
        for each in allotted.answer.orders
        if each.why
    ]
    return Fold(_("Why so"), tuple(sentences)) if sentences else None


def _in_turn(allotted):
    """Names of the open orders, by the day on which they are wanted."""
    told_of = allotted.answer.orders if allotted.answer else ()
    asked = [each.asked.name for each in told_of if each.asked.name in allotted.orders]
    return [*asked, *(name for name in allotted.orders if name not in asked)]


def _order(request, allotted, name):
    now = allotted.orders[name]
    told_of = allotted.of(name)
    whole = reverse("web:order", args=[request.membership.holding.slug, now.order.pk])
    return Section(
        heading=f"{name}, {now.order.customer}",
        sentence=wording.state(now, lambda mass: kg(mass, request.user.units)),
        actions=(
            *next_steps(request, allotted, now, told_of),
            Action(_("All of %(order)s") % {"order": unbroken(name)}, whole),
        ),
    )


def _enquiry(request, allotted, name):
    each, units = allotted.enquiries[name], request.user.units
    quotation = quotation_of(each)
    sentence = wording.enquiry(each, lambda mass: kg(mass, units))
    if quotation:
        sentence += " " + wording.quoted(quotation, lambda mass: kg(mass, units))
    return Section(
        heading=f"{name}, {each.customer}",
        sentence=sentence,
        actions=(*of_enquiry(request, each), *its_roof(request, each)),
    )


def _loads(holding, allotted):
    loads = loads_of(holding=holding, allotted=allotted)
    if loads is None:
        return None
    return Section(
        heading=wording.loads_of(),
        sentence=loads.sentence,
        more=tuple(load.sentence for load in loads.loads),
        care=(told(CAUTION),),
        working=loads.working,
    )


def _papers(request):
    papers = papers_of(holding=request.membership.holding, most=MOST_PAPERS)
    if not papers:
        return None
    bills = reverse("web:bills-csv", args=[request.membership.holding.slug])
    a_year = year_to(today(request.membership.holding))
    return Section(
        heading=_("Papers, the last first"),
        table=papers_table(request, papers, with_ubl=True, shown=OPEN_PAPERS),
        actions=(
            Action(_("Invoices of a year, as a table"), f"{bills}?{urlencode(a_year)}"),
        ),
    )


def _buyers(request):
    holding = request.membership.holding
    buyers = list(
        Customer.objects.filter(holding=holding).prefetch_related("visits")[
            :MOST_BUYERS
        ]
    )
    if not buyers:
        return None
    liked = likes(buyers)
    columns = (
        Column(_("Buyer")),
        Column(_("Likes")),
        Column(_("Last looked at")),
        Column(_("Would take"), True),
    )
    rows = tuple(_buyer(request, each, liked) for each in buyers)
    return Section(heading=_("Buyers"), table=Table(columns, rows))


def _buyer(request, each, liked):
    units = request.user.units
    wants = [wants for (of, _kind), wants in liked.items() if of == each.pk]
    last = next(iter(each.visits.all()), None)
    return (
        buyer_link(request, each),
        wording.likes(wants, lambda length: height_cm(length, units)) or UNKNOWN,
        wording.looked(last) if last else UNKNOWN,
        kg(last.would_take_kg, units) if last else UNKNOWN,
    )


def own_sections(request):
    """A buyer's own orders and papers, for the page of what they bought."""
    holding, units = request.membership.holding, request.user.units
    own = Customer.objects.filter(holding=holding, person=request.user)
    orders_of = orders_now(holding=holding, customers=own, done=True, most=MOST_PAPERS)
    papers = papers_of(holding=holding, customers=own, most=MOST_PAPERS)
    sections = tuple(
        Section(
            heading=str(now.order),
            sentence=wording.state(now, lambda mass: kg(mass, units)),
        )
        for now in orders_of
        if not now.is_done
    )
    if papers:
        table = papers_table(request, papers)
        sections += (Section(heading=_("Papers, the last first"), table=table),)
    return sections


@for_right(Right.SEE_BOOK)
def paper(request, paper_id):
    """For whoever may not know its prices, without them."""
    return _pdf(request, _of(request, pk=paper_id))


@for_right(Right.SEE_OWN)
def own_paper(request, paper_id):
    """A buyer's own, and nobody else's."""
    own = {"customer__person": request.user}
    return _pdf(request, _of(request, pk=paper_id, **own))


@for_right(Right.SEE_TRADE)
def paper_ubl(request, paper_id):
    from sheafwright.documents.ubl import ubl_document

    found = _of(request, pk=paper_id)
    if found.kind not in BILLS:
        raise Http404
    name = f"{found.code}.xml"
    return as_file(
        ubl_document(bill_of(found)),
        name,
        as_attachment=True,
        content_type="application/xml",
    )


@for_right(Right.SEE_TRADE)
def bills_csv(request):
    from sheafwright.documents import bills_csv as made

    begins, ends = period_of(request)
    bills = bills_of(holding=request.membership.holding, begins=begins, ends=ends)
    return as_file(made.bills_csv(bills), "invoices.csv", as_attachment=True)


def _of(request, **which):
    return get_object_or_404(
        Paper.objects.select_related("holding"),
        holding=request.membership.holding,
        **which,
    )


def _pdf(request, found):
    from sheafwright.documents.trade_paper import trade_paper_pdf

    slug = request.membership.holding.slug

    def address_of(lot):
        return request.build_absolute_uri(reverse("web:lot", args=[slug, lot]))

    member = request.membership
    # A buyer sees no papers but their own.
    with_prices = member.may(Right.SEE_TRADE) or member.may(Right.SEE_OWN)
    told_of = trade_paper_of(found, address_of, with_prices=with_prices)
    made = trade_paper_pdf(told_of)
    return as_file(made, f"{found.code}.pdf")
