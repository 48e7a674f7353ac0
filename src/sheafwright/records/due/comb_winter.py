"""Which days of the winter are fit for the comb, and when the ricks are done."""

from sheafwright.records.clock import today
from sheafwright.records.due import Due
from sheafwright.records.selectors.drum_order import kg_in_ricks
from sheafwright.records.selectors.runs import days_at_drum, own_rates

KEPT = "comb_winter"


def comb_winter_due(source, common):
    """`Due` of the holding's weather record."""
    holding = source.holding
    kg = kg_in_ricks(holding=holding)
    rates = own_rates(days_at_drum(holding=holding))
    kept = ("files", "tables", "engine", "latitude_deg", "altitude_m")
    # The record may end long before today: the winter ahead is the holding's own.
    day = today(holding)
    asks = {name: common[name] for name in kept}
    asks |= {"day": day, "kg": kg, "own_days": rates}

    def answer(_folder):
        from sheafwright.answers.comb_winter import WinterQuestion, comb_winter
        from sheafwright.charts.comb_winter import comb_winter_chart

        said = comb_winter(
            WinterQuestion(
                weather=source.record.path,
                columns=source.columns.path if source.columns else None,
                latitude=common["latitude_deg"],
                altitude=common["altitude_m"],
                as_of=day,
                kg=kg,
                own_days=rates,
            )
        )
        return said, lambda: comb_winter_chart(said, titled=False)

    return Due(KEPT, source, asks, answer)
