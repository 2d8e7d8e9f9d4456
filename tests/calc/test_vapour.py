"""Solvent vapour: the lowest limit of each kind, named and never mixed, and advice that is enough when it is followed."""

import math
import re

import pytest
from scipy.constants import R, atm, zero_Celsius
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from shopmate import calc, tables
from shopmate.calc.vapour import mass_concentration
from shopmate.errors import InputError
from shopmate.models.airing import MOLAR_VOLUME

DIRECTIONS = [
    ("volume", "concentration", "rising", {}),
    ("volume", "lel_fraction", "rising", {}),
    ("room", "concentration", "falling", {}),
    ("limit", "ventilation_needed", "falling", {"volume": "", "evaporation": "200 mL/h"}),
    ("mixing", "clear_after", "rising", {"ventilation": "200 m³/h"}),
    ("time", "concentration", "rising", {"volume": "", "evaporation": "200 mL/h", "ventilation": "400 m³/h"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

SOLVENTS = calc.find("vapour").field("solvent").kind.names()


def vapour(**fields):
    return calc.run("vapour", {"solvent": "ethanol", "volume": "100 mL", "room": "50 m³", **fields})


def numbers(result):
    return {name: getattr(value, "value", value) for name, value in result.outputs.items()}


def got(**fields):
    return numbers(vapour(**fields))


def cautions(**fields):
    return "\n".join(vapour(**fields).cautions)


def rows(substance, kind):
    return [row for row in tables.load("exposure_limits").rows if (row["substance"], row["kind"]) == (substance, kind)]


def problems(**fields):
    with pytest.raises(InputError) as caught:
        vapour(**fields)
    return {problem.field: problem for problem in caught.value.problems}


def test_molar_volume_is_that_of_an_ideal_gas_at_25_degrees():
    # Bodies that set limits convert with 24.45 L, which is 0.06 % under R T / p with the constants of scipy.
    assert pytest.approx(R * (zero_Celsius + 25) / atm * 1000, rel=1e-3) == MOLAR_VOLUME


@pytest.mark.parametrize(
    ("ppm", "molar_mass", "printed"),
    [(400, 60.10, 980), (500, 60.10, 1225), (400, 88.11, 1440), (100, 106.17, 434), (250, 58.08, 590), (1000, 46.07, 1900)],
)
def test_mass_agrees_with_the_pairs_that_niosh_and_acgih_print(ppm, molar_mass, printed):
    # NIOSH Pocket Guide and IDLH documentation, each limit in ppm and in mg/m³ [read]; printed to two or three digits.
    assert mass_concentration(ppm, molar_mass) == pytest.approx(printed, rel=0.012)


@pytest.mark.parametrize("solvent", SOLVENTS)
def test_concentration_goes_with_volume_over_room_until_the_air_is_full(solvent):
    one = got(solvent=solvent, volume="10 mL", room="100 m³")["concentration"]
    assert got(solvent=solvent, volume="20 mL", room="100 m³")["concentration"] == pytest.approx(2 * one)
    assert got(solvent=solvent, volume="10 mL", room="50 m³")["concentration"] == pytest.approx(2 * one)
    seen = [got(solvent=solvent, volume=f"{2**power} mL", room="0.5 m³")["concentration"] for power in range(16)]
    assert seen == sorted(seen)
    assert all(math.isfinite(ppm) and 0 < ppm < 1e6 for ppm in seen)
    full = float(tables.load("solvents").row("solvent", solvent)["vapour_kpa"]) / 101.325 * 1e6
    assert seen[-1] == pytest.approx(full)


def test_a_full_cupboard_is_not_more_vapour_than_air():
    # The plain ideal-gas figure for 1 L of ethanol in 0.2 m³ is two million ppm.
    result = vapour(volume="1 L", room="0.2 m³")
    assert numbers(result)["concentration"] == pytest.approx(78_200, rel=0.01)
    assert "cannot hold that much" in "\n".join(result.working)


def test_a_hot_shop_holds_more_vapour_and_a_cold_one_is_not_counted_on():
    full = {"volume": "50 L", "room": "1 m³"}
    # Ethanol at 40 °C: 17.9 kPa by the Antoine equation of handbooks, 177 000 ppm [memory]; the rule stays above it.
    cold, cool, hot = (got(**full, temperature=f"{celsius} °C")["concentration"] for celsius in (5, 25, 40))
    assert cold == cool
    assert 177_000 < hot < 1.5 * 177_000
    assert got(solvent="acetone", volume="50 L", room="1 m³", temperature="60 °C")["concentration"] == 1e6


@pytest.mark.parametrize("solvent", SOLVENTS)
def test_every_solvent_has_limits_for_health_and_fire(solvent):
    result = got(solvent=solvent)
    assert result["limit"] > 0
    assert result["limit_body"]
    assert 0.5 < result["lel"] < 7
    assert -25 < result["flash_point"] < 40
    # An immediately dangerous concentration lies above what is allowed all day.
    assert result["idlh"] > result["limit"]


def test_the_lowest_average_limit_is_taken_and_its_body_named():
    assert (got(solvent="isopropyl alcohol")["limit"], got(solvent="isopropyl alcohol")["limit_body"]) == (200, "Ontario")
    assert (got(solvent="toluene")["limit"], got(solvent="toluene")["limit_body"]) == (20, "ACGIH TLV, Ontario")
    assert (got()["limit"], got()["limit_body"]) == (1000, "NIOSH REL, OSHA PEL")
    assert (got(solvent="methanol")["limit"], got(solvent="methanol")["limit_body"]) == (200, "NIOSH REL, OSHA PEL, Ontario")


@pytest.mark.parametrize("solvent", SOLVENTS)
def test_no_ceiling_or_short_limit_ever_stands_in_for_an_average(solvent):
    result = got(solvent=solvent)
    for substance in tables.load("solvents").row("solvent", solvent)["limits_of"].split("+"):
        averages = [float(row["value"]) for row in rows(substance, "TWA") if row["unit"] == "ppm"]
        assert result["limit"] <= min(averages)
    assert result["ceiling"] is None or result["ceiling"] > result["limit"]
    assert result["short_term"] is None or result["short_term"] >= result["limit"]


def test_styrene_keeps_its_ceiling_apart_from_its_average():
    # OSHA: 100 ppm average, 200 ppm ceiling; a blend of the two would say 150.
    result = got(solvent="styrene")
    assert (result["limit"], result["short_term"], result["ceiling"]) == (10, 20, 200)
    said = cautions(solvent="styrene", volume="100 mL", room="50 m³")
    assert "15-minute average of 20 ppm" in said
    assert "ceiling of 200 ppm" in said


def test_limits_in_mg_are_converted_before_they_are_compared():
    # White spirit: NIOSH 350 mg/m³ is lower than ACGIH 100 ppm, though the number is larger.
    assert got(solvent="white spirit")["limit"] == pytest.approx(350 * 24.45 / 141.8)
    assert got(solvent="white spirit")["limit_body"] == "NIOSH REL"


def test_denatured_alcohol_has_the_vapour_of_ethanol_and_the_limits_of_methanol():
    denatured, ethanol, methanol = (got(solvent=name) for name in ("denatured alcohol", "ethanol", "methanol"))
    assert denatured["concentration"] == ethanol["concentration"]
    assert denatured["limit"] == methanol["limit"] == 200
    assert "for methanol" in denatured["limit_body"]
    assert denatured["lel"] == ethanol["lel"] == 3.1
    assert denatured["flash_point"] == methanol["flash_point"]
    assert (ethanol["verdict"], denatured["verdict"]) == ("ventilate", "over limit")
    assert "choose methanol" in cautions(solvent="denatured alcohol")


def test_a_tenth_of_the_explosive_limit_is_danger_even_where_health_would_allow_more():
    # Ethanol: a tenth of 3.1 % is 3100 ppm, under the IDLH of 3300 ppm.
    per_ml = got(volume="1 mL")["concentration"]
    below, above = (got(volume=f"{ppm / per_ml:.4f} mL") for ppm in (3090, 3110))
    assert (below["verdict"], above["verdict"]) == ("over limit", "danger")
    assert above["lel_fraction"] == pytest.approx(3110 / 31_000 * 100, rel=1e-3)
    assert "Don't touch a switch" in cautions(volume=f"{3110 / per_ml:.4f} mL")


@pytest.mark.parametrize("solvent", SOLVENTS)
def test_verdicts_follow_in_their_order(solvent):
    order = ("low", "ventilate", "over limit", "danger")
    seen = [got(solvent=solvent, volume=f"{2**power / 16} mL")["verdict"] for power in range(18)]
    assert list(dict.fromkeys(seen)) == list(order)


@pytest.mark.parametrize("solvent", SOLVENTS)
@pytest.mark.parametrize("volume", ["30 mL", "300 mL", "3 L"])
def test_using_no_more_than_advised_is_low(solvent, volume):
    said = cautions(solvent=solvent, volume=volume)
    if got(solvent=solvent, volume=volume)["verdict"] == "low":
        assert "stays low" not in said
        return
    advised = re.search(r"no more than ([\d.]+) mL of", said)[1]
    assert got(solvent=solvent, volume=f"{advised} mL")["verdict"] == "low"
    assert float(advised) > 0


def test_volume_at_limit_and_fresh_air_are_what_they_say():
    result = got(volume="250 mL")
    assert got(volume=f"{result['volume_at_limit']:.9f} mL")["concentration"] == pytest.approx(1000)
    assert got(volume="250 mL", room=f"{result['fresh_air']:.9f} m³")["concentration"] == pytest.approx(1000)


def test_flash_point_is_set_against_the_shop_with_a_margin():
    # Xylene: 25 °C, the lower of two; a warm corner of 21 °C is near enough to be treated as there.
    assert "Fire: flash point 25 °C" in cautions(solvent="xylene", temperature="30 °C")
    assert "within 5 °C of the shop's 21 °C" in cautions(solvent="xylene", temperature="21 °C")
    assert "flash point" not in cautions(solvent="xylene", temperature="15 °C")
    assert "below the shop's 20 °C" in cautions()
    assert "flash point" not in cautions(temperature="5 °C")


def test_room_is_taken_as_a_volume_or_as_its_sizes():
    plain = got(room="60 m³")["concentration"]
    for room in ("6 x 4 x 2.5 m", "6 m × 4 m × 2.5 m", "600 cm by 4 m by 2.5 m", "60000 L"):
        assert got(room=room)["concentration"] == pytest.approx(plain)
    assert got(room="20 x 13 x 8 ft")["concentration"] == pytest.approx(got(room="2080 ft³")["concentration"])
    assert got(room="20 × 13 × 8'")["concentration"] == pytest.approx(got(room="2080 ft³")["concentration"])
    for room in ("6 x 4 m", "6 x 4 x 2.5", "6 x 4 x 2.5 kg", "1 x 1 x 1 mm"):
        assert problems(room=room)["room"].fix


def test_usual_other_names_are_understood_and_unknown_ones_refused():
    for name, solvent in (("IPA", "isopropyl alcohol"), ("mineral spirits", "white spirit"), ("butanone", "MEK")):
        assert vapour(solvent=name).inputs["solvent"] == solvent
    assert "isopropyl alcohol" in problems(solvent="thinner no. 5")["solvent"].fix


def test_it_never_claims_to_replace_a_measurement():
    for volume in ("1 mL", "100 mL", "10 L"):
        said = cautions(volume=volume)
        assert "safety data sheet" in said
        assert "qualified" in said
        assert "average for the room" in said


# The table


def test_each_limit_is_a_number_of_a_known_kind_and_unit():
    units_of = {"TWA": {"ppm", "mg/m3", "mppcf"}, "STEL": {"ppm"}, "ceiling": {"ppm", "mg/m3"}, "IDLH": {"ppm", "mg/m3"},
                "LEL": {"%"}, "flash point": {"degC", "degF"}}  # fmt: skip
    for row in tables.load("exposure_limits").rows:
        assert math.isfinite(float(row["value"]))
        assert row["unit"] in units_of[row["kind"]], row


def test_idlh_values_said_to_be_a_tenth_of_the_explosive_limit_are():
    for row in tables.load("exposure_limits").rows:
        if row["kind"] == "IDLH" and row["note"] == "a tenth of the LEL":
            limits = [float(other["value"]) for other in rows(row["substance"], "LEL")]
            assert float(row["value"]) / 1000 in limits, row


def test_the_figures_of_the_words_of_a_spill():
    got = {
        name: getattr(value, "value", value)
        for name, value in calc.run("vapour", {"solvent": "ethanol", "volume": "100 mL", "room": "50 m³"}).outputs.items()
    }
    # 100 mL × 0.789 g/mL / 46.07 g/mol × 24.45 L over 50 m³; a limit of 1000 ppm, an LEL of 3.1 %.
    ppm = 100 * 0.789 / 46.07 * 24.45 / 50 * 1000
    assert got["evaporated"] == pytest.approx(ppm, rel=1e-3)
    assert got["fresh_air"] == pytest.approx(50 * ppm / 1000, rel=1e-3)
    assert got["fresh_air_mixed"] == pytest.approx(420)
    assert got["volume_at_limit"] == pytest.approx(100 * 1000 / ppm, rel=1e-3)
    assert got["volume_low"] == pytest.approx(11)
    assert got["low_limit"] == pytest.approx(100)
    assert got["danger_from"] == pytest.approx(3100)


# Airing

ETHANOL = {"evaporation": "200 mL/h", "density": "0.789 g/mL", "molar_mass": "46.07 g/mol", "limit": "1000 ppm"}


def aired(**fields):
    return numbers(calc.run("vapour", fields))


def made(volume, density, molar_mass):
    """Return m³/h of vapour from mL/h: moles by hand, 24.45 L each."""
    return volume * density / molar_mass * 24.45 / 1000


@pytest.mark.outside("scipy.integrate.solve_ivp on the balance of the room")
def test_level_after_is_what_the_room_balance_integrates_to():
    flow, room, mixing = 400.0, 50.0, 5.0
    source = made(200, 0.789, 46.07)
    # Effective flow Q / K carries off what is in the room: dC/dt = G / V − (Q / K V) C.
    solved = solve_ivp(
        lambda _, level: [source / room * 1e6 - flow / mixing / room * level[0]], (0, 8), [0.0], rtol=1e-10, atol=1e-9,
        dense_output=True,
    )  # fmt: skip
    for minutes in (1, 20, 90, 480):
        found = aired(**ETHANOL, room="50 m³", ventilation="400 m³/h", time=f"{minutes} min")
        assert found["concentration"] == pytest.approx(float(solved.sol(minutes / 60)[0]), rel=1e-6)
    assert found["steady"] == pytest.approx(source * mixing / flow * 1e6)
    assert found["made"] == pytest.approx(source)


@pytest.mark.outside("scipy.optimize.brentq on the decay")
def test_clearing_ends_where_the_decay_meets_the_target():
    level = brentq(lambda hours: 837 * math.exp(-200 / (5 * 50) * hours) - 100, 0, 24)
    found = aired(room="50 m³", start="837 ppm", target="100 ppm", ventilation="200 m³/h")
    assert found["clear_after"] == pytest.approx(60 * level)
    assert found["clear_to"] == 100
    back = aired(room="50 m³", start="837 ppm", target="100 ppm", clear_after=f"{60 * level} min")
    assert back["ventilation_needed"] == pytest.approx(200)
    assert back["clear_after"] == pytest.approx(60 * level)


@pytest.mark.outside("scipy.integrate.quad: air moved until clear carries off what was in the room")
def test_air_moved_while_clearing_carries_off_the_vapour():
    found = aired(room="50 m³", start="837 ppm", target="100 ppm", ventilation="200 m³/h")
    carried, _ = quad(lambda hours: 200 / 5 * 837 * math.exp(-200 / 5 / 50 * hours), 0, found["clear_after"] / 60)
    assert carried == pytest.approx(50 * (837 - 100), rel=1e-6)


@pytest.mark.outside("the form in US pints and cubic feet: 403·10⁶ SG ER K / (M C)")
def test_pints_and_cubic_feet_give_the_same():
    found = aired(evaporation="0.025 pt/min", density="1.32 g/mL", molar_mass="133.4 g/mol", limit="350 ppm", temperature="70 °F")
    per_minute = 403e6 * 1.32 * 0.025 / (133.4 * 350)
    cubic_feet = 0.3048**3 * 60
    assert found["effective"] / cubic_feet == pytest.approx(per_minute, rel=0.005)
    assert found["ventilation_needed"] / cubic_feet == pytest.approx(5 * per_minute, rel=0.005)
    by_the_hour = aired(evaporation="1.5 pt/h", density="1.32 g/mL", molar_mass="133.4 g/mol", limit="350 ppm")
    assert by_the_hour["made"] == pytest.approx(aired(evaporation="709.765 mL/h", density="1.32 g/mL", molar_mass="133.4 g/mol",
        limit="350 ppm")["made"], rel=1e-5)  # fmt: skip
    assert found["ventilation_aim"] == pytest.approx(2 * found["ventilation_needed"])


def test_mass_volume_and_vapour_say_the_same():
    by_volume = aired(**ETHANOL)
    by_mass = aired(evaporation="157.8 g/h", molar_mass="46.07 g/mol", limit="1000 ppm")
    as_vapour = aired(source=f"{made(200, 0.789, 46.07)} m³/h", limit="1000 ppm")
    of_the_table = aired(solvent="ethanol", evaporation="200 mL/h")
    for found in (by_mass, as_vapour, of_the_table):
        assert found["ventilation_needed"] == pytest.approx(by_volume["ventilation_needed"], rel=1e-6)


def test_vapour_takes_the_room_that_its_temperature_gives_it():
    # 24.06 L a mole at 20 °C, 24.45 at 25 °C.
    ratio = aired(**ETHANOL, temperature="20 °C")["effective"] / aired(**ETHANOL)["effective"]
    assert ratio == pytest.approx(24.06 / 24.45, rel=0.001)


def test_mixing_counts_once_and_only_against_the_air():
    one, five = (aired(**ETHANOL, mixing=mixing, room="50 m³", start="900 ppm", ventilation="200 m³/h") for mixing in ("1", "5"))
    assert five["effective"] == one["effective"]
    assert five["ventilation_needed"] == pytest.approx(5 * one["ventilation_needed"])
    assert five["clear_after"] == pytest.approx(5 * one["clear_after"])
    assert five["steady"] == pytest.approx(5 * one["steady"])


def test_fire_is_held_where_it_is_the_tighter():
    # A tenth of 1 % is 1000 ppm, half of the limit that was typed.
    fire = aired(**{**ETHANOL, "limit": "2000 ppm"}, lel="1 %")
    assert fire["ventilation_needed"] == pytest.approx(aired(**ETHANOL)["ventilation_needed"])
    level = aired(**ETHANOL, lel="3.1 %", ventilation="1000 m³/h")
    assert level["lel_part"] == pytest.approx(level["steady"] / 31_000 * 100)
    assert aired(**ETHANOL, lel="1 %", ventilation="400 m³/h")["verdict"] == "danger"


@pytest.mark.parametrize(("flow", "verdict"), [(2000, "low"), (600, "ventilate"), (400, "over limit"), (50, "danger")])
def test_steady_work_is_judged_by_half_the_limit_the_limit_and_danger(flow, verdict):
    assert aired(solvent="ethanol", evaporation="200 mL/h", ventilation=f"{flow} m³/h")["verdict"] == verdict


def test_spill_is_cleared_from_what_it_came_to():
    found = got(ventilation="200 m³/h")
    assert found["clear_to"] == 500
    assert found["clear_after"] == pytest.approx(50 * 5 / 200 * math.log(found["concentration"] / 500) * 60)
    assert found["verdict"] == "ventilate"
    assert got(ventilation="200 m³/h", target="900 ppm")["clear_after"] == 0


def test_without_fresh_air_a_room_never_clears_and_fills():
    result = calc.run("vapour", {"room": "40 m³", "start": "500 ppm", "target": "100 ppm", "ventilation": "0 m³/h"})
    assert result.outputs["clear_after"] == "never"
    assert not result.has_figure
    shut = aired(**ETHANOL, room="50 m³", ventilation="0 m³/h", time="30 min")
    assert shut["steady"] is None
    assert shut["concentration"] == pytest.approx(made(200, 0.789, 46.07) / 2 / 50 * 1e6)
    assert aired(source="100 m³/h", limit="100 ppm", ventilation="1 m³/h")["steady"] == 1e6


def test_flammable_solvent_is_told_of_when_it_evaporates_steadily():
    result = calc.run("vapour", {"solvent": "acetone", "evaporation": "0.5 L/h", "ventilation": "500 m³/h"})
    said = "\n".join(result.cautions)
    assert "flash point" in said
    assert "Let air in as well" in said
    assert "qualified" in said
    assert result.outputs["flash_point"].value < 0


def test_limit_too_low_to_dilute_is_sent_to_the_source():
    result = calc.run("vapour", {**ETHANOL, "limit": "0.02 ppm"})
    assert "extraction at the work" in "\n".join(result.cautions)


def test_what_does_not_go_together_is_refused_with_what_to_do():
    def refused(**fields):
        with pytest.raises(InputError) as caught:
            calc.run("vapour", fields)
        return {problem.field for problem in caught.value.problems}

    assert refused() == {"volume"}
    assert refused(solvent="ethanol") == {"volume"}
    assert refused(volume="100 mL") == {"solvent", "room"}
    assert refused(**ETHANOL, source="1 m³/h") == {"source"}
    assert refused(**ETHANOL, solvent="ethanol", volume="1 L", room="50 m³") == {"evaporation", "density", "molar_mass"}
    assert refused(evaporation="200 mL/h", limit="100 ppm") == {"density", "molar_mass"}
    assert refused(evaporation="200 g/h", limit="100 ppm") == {"molar_mass"}
    assert refused(source="1 m³/h") == {"limit"}
    assert refused(**ETHANOL, time="1 h") == {"room", "ventilation"}
    assert refused(**ETHANOL, ventilation="1 m³/h", air_changes="2 1/h") == {"air_changes", "room"}
    assert refused(start="500 ppm", room="50 m³") == {"ventilation", "target"}
    assert refused(start="500 ppm", target="50 ppm", ventilation="9 m³/h", clear_after="1 h") == {"clear_after", "room"}
    assert refused(**ETHANOL, target="50 ppm") == {"target"}
    assert refused(start="5 ppm", target="1 ppm", room="5 m³", ventilation="1 m³/h", density="1 g/mL") == {"density"}
    assert refused(evaporation="200 kg", solvent="ethanol") == {"evaporation"}
