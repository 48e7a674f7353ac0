"""What papers say of straw that was measured and graded, in plain numbers."""

import numpy as np

from sheafwright.answers.grade import rule_to_json
from sheafwright.answers.stem_means import CONFIDENCE, stem_means
from sheafwright.records.models.store import STRAW
from sheafwright.records.selectors.grading import stems_of
from sheafwright.records.selectors.lot_known import graded_for, own_rules

BAND = (0.1, 0.5, 0.9)


def stems_said(lot):
    """What stems of a lot measured: bands, and means with how sure they are."""
    samples = list(lot.stem_samples.all())
    if not samples:
        return {}
    stems = stems_of(samples)
    found = {
        "count": len(stems),
        "bundles": len(np.unique(stems.bundle)),
        "confidence": CONFIDENCE,
    }
    for name in ("length_mm", "butt_mm"):
        values = getattr(stems, name)
        values = values[np.isfinite(values)]
        if values.size:
            found[name] = [round(float(v), 1) for v in np.quantile(values, BAND)]
    found["means"] = {
        name: [_rounded(mean.mean), _rounded(mean.low), _rounded(mean.high)]
        for name, mean in stem_means(stems).items()
    }
    return found


def _rounded(value):
    return None if value is None else round(value, 3)


def graded_said(lot, customer):
    """The grade by its stems, and by whose rule; nothing where none was measured."""
    if lot.kind not in STRAW:
        return {}
    graded = graded_for(lot, customer.name)
    if graded is None:
        return {}
    use = graded.question.use
    own = own_rules(customer.name, holding=lot.holding)
    return {
        "graded": {
            "grade": graded.grade,
            "use": use,
            "sure": round(min(graded.sure, 0.99), 3),
            "stems": graded.seen,
            "bundles": graded.bundles,
            "own_rule": use in own,
        },
        "grade_rules": [_rule(use, graded.question.asks)],
    }


def own_rules_of(customer, kind):
    """A buyer's own grade rules, where straw is offered to them or ordered."""
    if kind not in STRAW:
        return {}
    own = own_rules(customer.name, holding=customer.holding)
    if not own:
        return {}
    return {"grade_rules": [_rule(use, rule) for use, rule in own.items()]}


def _rule(use, rule):
    return {"use": use, **rule_to_json(rule)}
