"""Every sentence that pages and papers say of grades, rules and bundles themselves.

What the engine says stands in its answers.
"""

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sheafwright.records.models.grading import Use

UNKNOWN = "–"


def in_short(graded):
    """A lot's grade as a cell of a table has it."""
    if graded.grade:
        return _("%(grade)s, %(sure).0f%% sure") % {
            "grade": grade_and_use(*graded.grade),
            "sure": 100 * min(graded.stems.sure, 0.99),
        }
    if graded.stems:
        return _("below grade 2")
    return by_hand(graded.fit)


def by_hand(fit):
    """What a handful was found fit for."""
    if fit is None:
        return UNKNOWN
    if not fit:
        return _("by hand: no roof")
    return _("by hand: %(uses)s") % {"uses": ", ".join(use(each) for each in fit)}


def on_a_label(graded):
    """The grade that a bundle bears; '' where nobody graded it."""
    if graded.grade:
        return grade_and_use(*graded.grade)
    if graded.stems or not graded.fit:
        # Straw that is fit for nothing is not sold as anything.
        return ""
    return _("for %(use)s, by hand") % {"use": use(graded.fit[0])}


def grade_and_use(grade, of_use):
    said = {"first": _("grade 1, %(use)s"), "second": _("grade 2, %(use)s")}
    return said[grade] % {"use": use(of_use)}


def use(name):
    return str(Use(name).label)


def not_graded():
    return _("Not graded yet: twist a handful, and say whether it holds.")


def said_fit(name):
    return _("Said to be fit for %(use)s by who graded it.") % {"use": use(name)}


def no_count():
    return _("Tell off its bundles, and which of them to open is drawn by lot.")


def put_back():
    return _("−1, told too many")


def more(count):
    return ngettext("+%(count)d bundle", "+%(count)d bundles", count) % {"count": count}


def history_waits():
    return _("Measure stems of a lot, and what made the good straw is worked out.")


def whose(said):
    if said is None:
        return _("as is usual")
    return said.buyer_name or _("your own")
