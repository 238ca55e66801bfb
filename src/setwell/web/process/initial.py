"""What the fields of the process page show for a plan."""

from setwell.domain.process_plan import PotStirring, ProcessPlan
from setwell.services.process_equipment import Equipment, chosen, pot_choice
from setwell.web.inputs import number_initial


def initial_of(plan: ProcessPlan, kit: Equipment) -> dict[str, str]:
    """Return what the fields show for a plan."""
    pot, cold = plan.pot, plan.cooling
    return {
        "hob": chosen(kit.hobs, pot.hob) if pot else "",
        "power": "",
        "pot": pot_choice(kit, pot) if pot else kit.pots[0].name,
        "lid": "lid" if pot and pot.lid else "open",
        "stirring": (pot.stirring if pot else PotStirring.OCCASIONAL).value,
        "batch": number_initial(pot.batch_g if pot else None),
        "start": number_initial(pot.start_c if pot else 20.0),
        "target": number_initial(pot.target_c if pot else None),
        "hold": number_initial(pot.hold_min if pot else None),
        "room": number_initial(pot.room_c if pot else cold.room_c if cold else 20.0),
        "mold": chosen(kit.molds, cold.mold) if cold else kit.molds[0].name,
        "mold_lid": "lid" if cold and cold.mold.lid else "open",
        "count": str(cold.count) if cold else "1",
        "pour": number_initial(cold.pour_c if cold else None),
        "counter": number_initial(cold.counter_min if cold else 0.0),
        "cooler": chosen(kit.coolers, cold.cooler) if cold else "",
        "serving": number_initial(cold.serving_c if cold else None),
        "serve": "",
        "earliest": "",
        "sweep": "",
        "layer": "",
        "layer_mm": "15",
        "this_mm": "15",
        "layer_c": "",
        "piece_mm": "",
        "piece_c": "-18",
    }
