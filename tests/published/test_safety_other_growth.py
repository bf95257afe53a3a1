"""Second opinions on growth: braised beef, salted bulk meat, cooked rice, ground beef; each row names its source."""
from __future__ import annotations

import numpy as np
import pytest

from skills.safety import growth
from tests.published.safety_rows import ROWS, ids


@pytest.mark.parametrize("row_id", ids("mu-bulk-"))
def test_rate_with_salt_and_ph(row_id: str) -> None:
    """Int J Food Microbiol 2008;128:41-50 (RAKIP records 1317-1318)."""
    row = ROWS[row_id]
    inputs = row["inputs"]
    got = growth.salted_rate(inputs["temp_c"], inputs["nacl_pct"], inputs["ph"])
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])


def test_cardinal_form_peaks_where_braised_beef_does() -> None:
    """Food Control 2019, abstract."""
    least, best, most, rate = ROWS["mu-braised-card"]["expect"]
    assert (least, best, most, rate) == growth.BRAISED_BEEF
    temps = np.linspace(least, most, 43101)
    rates = growth.cardinal_rate(temps, *growth.BRAISED_BEEF)
    assert float(temps[rates.argmax()]) == pytest.approx(best, abs=0.01)
    assert float(rates.max()) == pytest.approx(rate, rel=1e-6)
    assert float(growth.cardinal_rate(least - 0.1, *growth.BRAISED_BEEF)) == 0.0


def test_the_main_model_agrees_with_braised_beef() -> None:
    row = ROWS["mu-braised-cross"]
    got = float(growth.growth_rate(row["inputs"]["temp_c"])) * np.log(10.0)
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])
    assert got == pytest.approx(growth.BRAISED_BEEF[3], rel=0.05)


@pytest.mark.parametrize("row_id", ids("mu-bc-"))
def test_rate_in_cooked_rice(row_id: str) -> None:
    """Food Control 2019;96:403-409 (RAKIP record 1172)."""
    row = ROWS[row_id]
    assert float(growth.cardinal_rate(row["inputs"]["temp_c"], *growth.COOKED_RICE)) == pytest.approx(
        row["expect"], abs=row["tolerance"])


def test_rate_of_botulinum_in_ground_beef() -> None:
    """Food Microbiology 2021;93:103618 (RAKIP record 1311)."""
    row = ROWS["mu-cb-30"]
    assert growth.botulinum_rate(row["inputs"]["temp_c"]) == pytest.approx(row["expect"], abs=row["tolerance"])
    assert growth.botulinum_rate(50.0) == 0.0


@pytest.mark.parametrize("row_id", [each for each in ids("card-") if not each.endswith("-fda")])
def test_growth_ranges_of_the_handbook(row_id: str) -> None:
    """HACCP handbook, growth-limits appendix (columns scrambled in the stored text, so the tolerance is wide)."""
    row = ROWS[row_id]
    name = row["inputs"]["organism"].removesuffix(" (all strains)")
    for got, want, reach in zip(growth.LIMITS_C[name], row["expect"], row["tolerance"], strict=True):
        assert got == pytest.approx(want, abs=reach)


@pytest.mark.parametrize("row_id", ["card-cp-fda", "card-bc-fda"])
def test_older_handbook_agrees_to_a_few_degrees(row_id: str) -> None:
    row = ROWS[row_id]
    least, _, most = growth.LIMITS_C[row["inputs"]["organism"]]
    # The older table misses strains of B. cereus that grow in the cold.
    assert least <= row["expect"][0] + 2.0
    assert most >= row["expect"][1] - 2.0


def test_the_model_grows_wherever_the_handbook_says_it_does() -> None:
    least, _, most = growth.LIMITS_C["C. perfringens"]
    for meat in growth.MEATS:
        assert float(growth.growth_rate(least, meat)) > 0.0
        assert float(growth.growth_rate(most, meat)) > 0.0
