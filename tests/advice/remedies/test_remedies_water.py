"""Remedies for what people do wrong in the water of a cart: there is one, it is proven, it reads.

What has to hold of every remedy is logic (see `remedies_claims`). The numbers that a remedy sets
are held against the rule that asks for them, named beside each check.
"""

import math
import re
from functools import cache

import pytest
from remedies_claims import check_remedy
from water_harms import HARMS, harmed

from cartlayout.advice.remedies import Remedy, best_first, remedies
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Accumulator, Pump, Regulator
from cartlayout.findings import Finding
from cartlayout.units import UnitSystem

PSI_PA = 6894.757
GAL_M3 = 3.785412e-3


def _found(analysis: Analysis, code: str) -> Finding:
    return next(one for one in analysis.findings if one.code == code)


@cache
def _remedies(name: str) -> tuple[Analysis, tuple[Remedy, ...]]:
    analysis = analyse(harmed(name))
    finding = _found(analysis, HARMS[name][2])
    found = [one for one in remedies(analysis, finding) if isinstance(one, Remedy)]
    return analysis, best_first(found)


UNMENDED = {
    "hungry rinser": "no pump of the stock gives the rinser so much by itself",
}
"""Harms against which nothing of the stock helps; then a reason is told."""


@pytest.mark.parametrize("name", [one for one in HARMS if one not in UNMENDED])
def test_there_is_a_proven_remedy_for_what_people_do_wrong(name: str) -> None:
    analysis, found = _remedies(name)
    assert found, f"nothing mends: {name}"
    for one in found:
        check_remedy(analysis, one)
        _reads_well(one)


def _reads_well(remedy: Remedy) -> None:
    """A title is an order, an outcome says two numbers that differ, or a short sentence."""
    for system in UnitSystem:
        title, outcome = remedy.title.shown(system), remedy.outcome.shown(system)
        for text in (title, outcome, *remedy.cautions):
            assert text == text.strip()
            assert "  " not in text
            assert not re.search(r"\bnan\b|\binf\b|None", text), text
            assert not text.endswith(".") or text in remedy.cautions
        assert title[0].isupper()
        if " instead of " in outcome:
            now, before = outcome.split(" instead of ")
            assert now != before, outcome
        else:
            assert outcome[0].isupper()
            assert outcome != "It is not so any more", remedy.title
            assert outcome != "It is no longer said", remedy.title


@pytest.mark.parametrize("name", [one for one in HARMS if one not in UNMENDED])
def test_cares_that_come_are_told(name: str) -> None:
    """Nothing that was not said before is said of the copy without being told beside the remedy."""
    analysis, found = _remedies(name)
    old = [(one.code, {*one.items}, {*one.runs}) for one in analysis.findings]
    for one in found:
        told = {(each.code, each.items, each.runs) for each in one.come}
        for now in one.analysis.findings:
            known = any(
                now.code == code
                and (not now.items or items & set(now.items) or runs & set(now.runs))
                for code, items, runs in old
            )
            assert known or (now.code, now.items, now.runs) in told, now.title


def _first(name: str, kind: str) -> Remedy:
    _, found = _remedies(name)
    return next(one for one in found if one.kind == kind)


# --- the numbers that are set ------------------------------------------------------------------


@pytest.mark.parametrize("name", ["too much air", "too little air"])
def test_a_vessel_is_charged_two_psi_below_the_cut_in(name: str) -> None:
    """2 psi below cut-in: the rule of thumb on every pressure vessel's sheet; from memory."""
    build = _first(name, "pre-charge").build
    vessel, pump = build.item("accumulator"), build.item("pump")
    assert vessel is not None
    assert pump is not None
    air, switch = vessel.specification.water, pump.specification.water
    assert isinstance(air, Accumulator)
    assert isinstance(switch, Pump)
    assert math.isclose(air.pre_charge.si, switch.cut_in.si - 2 * PSI_PA, abs_tol=0.5 * PSI_PA)


def test_a_larger_waste_tank_is_a_sixth_larger_than_the_fresh_one() -> None:
    """Waste 15 % larger than fresh: Food Code 5-401.11; 5 gal of fresh ask for 5.75 gal."""
    for one in _remedies("waste as small as fresh")[1]:
        balance = one.analysis.water.balance
        assert balance is not None
        assert balance.waste >= 1.15 * balance.fresh * (1 - 1e-6)


def test_an_air_gap_is_made_twice_the_bore_and_an_inch_at_least() -> None:
    """Food Code 5-202.13: twice the diameter of the inlet and no less than 25 mm (1 in)."""
    build = _first("small air gap", "air gap").build
    rinser = build.item("rinser")
    assert rinser is not None
    gap = rinser.specification.water.air_gap  # type: ignore[union-attr]
    bore_m = max(run.tube.bore.si for run in build.tubes if run.b and run.b.item == "rinser")
    assert gap.si >= max(2 * bore_m, 0.0254) - 1e-6


def test_a_slower_valve_shuts_after_its_wave_has_come_back() -> None:
    """Joukowsky's whole blow is felt by a valve that shuts within 2 L / a (any text on surges)."""
    analysis, found = _remedies("valve that slams")
    (slower,) = [one for one in found if one.kind == "slower valve"]
    surge = next(one for one in analysis.water.surges if one.item == "rinser")
    takes_s = slower.build.item("rinser").specification.water.inlets[0].closing_time.si
    assert takes_s > surge.back_s > surge.closing_s
    after = next(one for one in slower.analysis.water.surges if one.item == "rinser")
    assert after.peak_pa < 150 * PSI_PA < surge.peak_pa


def test_wider_tube_is_the_next_size_that_does() -> None:
    """Of tubes by outside: 1/4, 5/16, 3/8, 1/2 in; 5/16 in still starves it, 3/8 in does not."""
    _, found = _remedies("thin tube to the rinser")
    rinser = found[0].build.run("rinser-line")
    assert rinser is not None
    assert rinser.tube.name == "3/8 in tube"  # type: ignore[union-attr]


def test_flow_told_of_an_opening_follows_the_square_root_of_its_pressure() -> None:
    """q = q0 sqrt(p / p0), the law of an orifice (any handbook), from the copy's own pressure."""
    for name in ("thin tube to the rinser", "60 m of tube"):
        for one in _remedies(name)[1]:
            tap = one.analysis.water.tap("rinser")
            assert tap is not None
            assert one.value is not None
            role = one.build.item("rinser").specification.water  # type: ignore[union-attr]
            rated = role.inlets[0].behaviour.rated  # type: ignore[union-attr]
            by_law = [
                rated.flow.si * math.sqrt(state.lowest_pa / rated.pressure.si)
                for state in tap.states.values()
                if state.open
            ]
            assert any(math.isclose(one.value.si, each, rel_tol=2e-3) for each in by_law)


def test_a_vessel_gives_by_boyles_law_what_its_run_time_says() -> None:
    """Boyle: V (p0 / p1 - p0 / p2), absolute; filled by the pump between its two flows."""
    for one in _remedies("tiny vessel")[1]:
        if one.kind != "larger accumulator":
            continue
        vessel, pump = (one.build.item(each) for each in ("accumulator", "pump"))
        assert vessel is not None
        assert pump is not None
        air, role = vessel.specification.water, pump.specification.water
        assert isinstance(air, Accumulator)
        assert isinstance(role, Pump)
        absolute = 101325.0
        gives = (
            air.volume.si
            * (air.pre_charge.si + absolute)
            * (1 / (role.cut_in.si + absolute) - 1 / (role.cut_out.si + absolute))
        )
        flows = sorted(row.flow.si for row in role.curve)
        assert one.value is not None
        assert one.value.si >= gives / flows[-1]


def test_a_regulator_holds_the_line_below_what_the_machine_bears() -> None:
    """A regulator never gives more than it is set to and creeps: 50 psi is what is allowed."""
    for name in ("tender machine", "tender machine, regulator there"):
        for one in _remedies(name)[1]:
            tap = one.analysis.water.tap("espresso")
            assert tap is not None
            assert tap.static_pa <= 50.1 * PSI_PA
            sets = [
                item.specification.water.set_point.si
                for item in one.build.items
                if isinstance(item.specification.water, Regulator)
            ]
            if "regulator" in one.kind:
                assert min(sets) < 50 * PSI_PA


def test_one_regulator_behind_the_main_clears_every_tap() -> None:
    """One for all: of six taps that see 119 psi none is left."""
    analysis = analyse(harmed("strong main"))
    finding = _found(analysis, "water.static")
    found = [one for one in remedies(analysis, finding) if isinstance(one, Remedy)]
    for_all = [one for one in found if "behind" in one.title.template]
    assert for_all
    assert not any(one.code == "water.static" for one in for_all[0].analysis.findings)


# --- where nothing helps -----------------------------------------------------------------------


@pytest.mark.parametrize("name", UNMENDED)
def test_where_nothing_helps_a_reason_is_told(name: str) -> None:
    from cartlayout.advice.remedies.sources import why_none

    analysis, found = _remedies(name)
    assert not found
    reason = why_none(_found(analysis, HARMS[name][2]))
    assert reason.endswith(".")
    assert "Nothing that was tried" not in reason


def test_every_code_of_water_has_candidates_or_a_reason() -> None:
    """All codes that the rules of water can say, read from their own text."""
    from pathlib import Path

    import cartlayout.findings as findings
    from cartlayout.advice.remedies.water_codes import REASONS, SOURCES

    folder = Path(findings.__file__).parent
    said = {
        code
        for path in folder.glob("water_*.py")
        for code in re.findall(r'"(water\.[a-z-]+)"', path.read_text(encoding="utf-8"))
    }
    said |= {f"water.{one}" for one in ("empty", "no-bore", "no-curve", "starved", "not-converged")}
    assert said
    assert said <= {*SOURCES, *REASONS}, said - {*SOURCES, *REASONS}
