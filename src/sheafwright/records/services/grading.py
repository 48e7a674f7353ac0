"""Straw graded by hand and by its stems; the holding's rules; bundles told off."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from sheafwright.answers.grade import check_rule
from sheafwright.core.errors import SheafwrightError
from sheafwright.feeds.stems import plain_rows, rows_in
from sheafwright.feeds.telling import refusal, say
from sheafwright.records.models import Bundles, GradeRule, HandGrade, StemSample
from sheafwright.records.models.store import STRAW
from sheafwright.records.selectors.grading import rule_of, tallies_of
from sheafwright.records.services.checks import not_ahead, refuse
from sheafwright.records.services.entry import entry_add, entry_write, writing


def hand_grade_record(*, holding, lot, date, **said):
    """Write down what a handful was found to be."""
    of_straw(lot)
    not_ahead(holding, date)
    return entry_add(HandGrade, holding=holding, lot=lot, date=date, **said)


def grade_rule_set(*, holding, use, **said):
    """Say anew what a use asks of its stems."""
    try:
        check_rule(rule_of(GradeRule(use=use, **said)))
    except SheafwrightError as error:
        raise ValidationError(refusal(error)) from None
    return entry_add(GradeRule, holding=holding, use=use, **said)


def bundles_record(*, id, holding, lot, date, count, **said):
    """Write down bundles as they are tied, or put back some that were told too many."""
    of_straw(lot)
    not_ahead(holding, date)
    with writing(holding):
        entry, is_new = entry_write(
            Bundles, id=id, holding=holding, lot=lot, date=date, count=count, **said
        )
        if is_new and sum(tally.count for tally in tallies_of(lot)) < 0:
            refuse("count", _("More bundles are put back than were ever counted."))
    return entry


def stem_sample_record(*, holding, lot, date, stems, bundle=None, **said):
    """Write down stems that were measured.

    Parameters
    ----------
    stems : list of dict
        Rows as `feeds.stems` reads them.
    bundle : int, optional
        That all of them are from; else each says its own.
    """
    of_straw(lot)
    not_ahead(holding, date)
    try:
        kept = plain_rows(stems, say("The sample"))
    except SheafwrightError as error:
        refuse("stems", refusal(error))
    return entry_add(
        StemSample,
        holding=holding,
        lot=lot,
        date=date,
        bundle=bundle,
        stems=kept,
        **said,
    )


def stems_of_file(content):
    """Rows of stems in a file's bytes: JSON or CSV."""
    return rows_in(content, say("The file"))


def of_straw(lot):
    """Refuse a lot of anything else."""
    if lot.kind not in STRAW:
        refuse(
            "lot",
            _("%(lot)s is %(what)s; only straw is graded and bundled.")
            % {"lot": lot, "what": lot.get_kind_display()},
        )
