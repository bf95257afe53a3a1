"""The class log: rows of facts, the page made of them, its forms, and what came of the forecasts."""
