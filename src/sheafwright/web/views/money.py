"""What the crop should leave, what would leave more, and what the book has of it."""

import io

from django.http import FileResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.feeds.budget import terms_of
from sheafwright.feeds.telling import first_sentence
from sheafwright.records import money_wording as wording
from sheafwright.records.models import Purchase
from sheafwright.records.selectors.money import (
    against_budget,
    harvest_money,
    harvests_with_money,
    last_sown_for,
)
from sheafwright.records.selectors.purchases import purchases_for
from sheafwright.web.access import for_right
from sheafwright.web.asked import year_of
from sheafwright.web.errors import told_on
from sheafwright.web.money import (
    KNOBS,
    as_it_is,
    budget_sections,
    doubts_section,
    form_class,
    tried,
)
from sheafwright.web.sheets import Action, Section
from sheafwright.web.spent import book_sections
from sheafwright.web.views.papers import as_picture

MOST_YEARS = 12


@for_right(Right.RUN)
def money(request):
    holding, units = request.membership.holding, request.user.units
    years = harvests_with_money(holding=holding)
    book = harvest_money(holding=holding, harvest_year=_year(request, years))
    terms, answer, closely = book.terms(), None, "closely" in request.GET
    if request.method == "POST":
        form = form_class(terms, units)(request.POST)
        if form.is_valid():
            with told_on(form):
                answer = _tried(book, terms, form.cleaned_data, units)
    else:
        form = form_class(terms, units)(initial=as_it_is(terms, units))
        answer = book.budget_of(terms)
    first, rest = first_sentence(answer.sentence) if answer else (_("Money"), "")
    odds, rest = first_sentence(rest) if rest else ("", "")
    sections = _sections(request, book, answer, closely, rest) if answer else ()
    context = {
        "answer": first,
        "odds": odds,
        "form": form,
        "slides": [form[name] for name in KNOBS],
        "area": form["area"],
        "before": [Section(sentence=wording.by_the_book(book))],
        "sections": list(sections),
        "years": _others(request, years, book.harvest_year),
    }
    refused = form.is_bound and answer is None
    return render(request, "web/money.html", context, status=400 if refused else 200)


@for_right(Right.RUN)
def bills_csv(request):
    """Every bill of a harvest, an entry a line."""
    from sheafwright.documents.record_book import Table as Lines
    from sheafwright.documents.record_book_csv import as_csv

    holding = request.membership.holding
    year = _year(request, harvests_with_money(holding=holding))
    bills = purchases_for(holding=holding, harvest_year=year)
    lines = Lines(*wording.bills_table(bills))
    return FileResponse(
        io.BytesIO(as_csv(lines)),
        filename=f"bills-{year}.csv",
        as_attachment=True,
        content_type="text/csv; charset=utf-8",
    )


@for_right(Right.RUN)
def bill(request, purchase_id):
    """The photo of a bill."""
    found = get_object_or_404(
        Purchase, holding=request.membership.holding, pk=purchase_id
    )
    return as_picture(found.photo)


def _year(request, years):
    return year_of(request, years) or last_sown_for(request.membership.holding)


def _others(request, years, shown):
    page = reverse("web:money", args=[request.membership.holding.slug])
    return [
        Action(str(year), f"{page}?year={year}")
        for year in years[:MOST_YEARS]
        if year != shown
    ]


def _tried(book, terms, said, units):
    """The `Budget` with what was typed in place of what the book and tables have."""
    knobs, area = tried(terms, said, units)
    changed = book.terms(**knobs)
    if area is not None:
        times = area / terms.area
        fields = {name: each * times for name, each in terms.fields.items()}
        own = {section: {} for section, _name in changed.given}
        for section, name in changed.given:
            own[section][name] = changed.rows[section][name]
        changed = terms_of(fields, own, "budget.toml")
    return book.budget_of(changed)


def _sections(request, book, answer, closely, rest):
    units = request.user.units
    yield Section(sentence=rest)
    if closely:
        yield Section(drawing=_drawn(answer))
    yield from budget_sections(answer, units, closely)
    if request.method != "POST":
        against = against_budget(holding=request.membership.holding, answer=answer)
        yield from book_sections(request, against)
        yield _closely(request, book, closely)
    yield doubts_section(answer)


def _drawn(answer):
    # Altair comes with the picture; the page itself shouldn't wait for it.
    from sheafwright.charts.budget import budget_chart
    from sheafwright.charts.save import svg

    return svg(budget_chart(answer, titled=False))


def _closely(request, book, closely):
    page = reverse("web:money", args=[request.membership.holding.slug])
    should = reverse("web:should-grow", args=[request.membership.holding.slug])
    look = Action(
        _("A closer look: drawn, and what it hangs on alone"),
        f"{page}?year={book.harvest_year}&closely=1",
    )
    guide = Action(_("Should I grow it at all?"), should)
    return Section(actions=(guide,) if closely else (look, guide))
