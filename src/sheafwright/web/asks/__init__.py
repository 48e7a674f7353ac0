"""Every question that a page answers as soon as it is asked, and keeps nothing of."""

from django.urls import reverse
from django.utils.http import urlencode

from sheafwright.web.asks.carting import CARTING
from sheafwright.web.asks.drill import DRILL
from sheafwright.web.asks.grain_choice import GRAIN_CHOICE
from sheafwright.web.asks.rick_size import RICK_SIZE
from sheafwright.web.asks.roof import ROOFS
from sheafwright.web.asks.seed_increase import SEED_INCREASE
from sheafwright.web.asks.seed_rate import SEED_RATE
from sheafwright.web.sheets import Action

ASKS = {
    "seed-rate": SEED_RATE,
    "drill": DRILL,
    "seed-increase": SEED_INCREASE,
    "rick-size": RICK_SIZE,
    "carting": CARTING,
    "grain-choice": GRAIN_CHOICE,
    **ROOFS,
}


def ask_action(request, question, **given):
    """A button to a question, some of its fields filled in."""
    url = reverse("web:ask", args=[request.membership.holding.slug, question])
    query = f"?{urlencode(given)}" if given else ""
    return Action(ASKS[question].title, url + query)


def beside_action(request, question):
    """A link to a question from one that asks the same of something else."""
    action = ask_action(request, question)
    return Action(ASKS[question].short, action.url)
