"""What is believed of a class's ovens and dishes, and what will come of them."""
from skills.kitchen.belief import Belief, DishBelief, OvenBelief
from skills.kitchen.forecast import DishForecast, Forecast, OvenForecast
from skills.kitchen.instruments import Doubt
from skills.kitchen.kitchen import Kitchen
from skills.kitchen.setting import CutProfile, OvenProfile, Setting

__all__ = [
    "Belief", "CutProfile", "DishBelief", "DishForecast", "Doubt", "Forecast", "Kitchen", "OvenBelief", "OvenForecast",
    "OvenProfile", "Setting",
]
