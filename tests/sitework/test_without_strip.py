"""A system without a terminal strip: what is read where, and what is not read at all."""

from __future__ import annotations

from generator.circuit.elements import part_of
from generator.sitework.dead_checks import strip_nets
from generator.sitework.live_tests import LiveTest, live_tests
from generator.sitework.signs import ways
from tests.sitework.shipped import shipped, tried

SWITCHED, PAIRED = "combination-boiler-wireless", "combination-boiler-volt-free-wireless"


def live(name: str) -> tuple[LiveTest, ...]:
    return live_tests(shipped(name), tried(name))


def test_it_is_read_at_the_receiver_for_the_boiler_and_the_supply_stay_shut():
    # Nobody reads live in a boiler or where a supply arrives: common practice, no source.
    assert {part_of(terminal) for terminal in ways(shipped(SWITCHED))} == {"K1"}


def test_a_strip_is_read_at_the_strip_alone():
    for name in ("oil-burner-wireless", "two-zone-pump-overrun"):
        assert {part_of(terminal) for terminal in ways(shipped(name))} == {"X1"}


def test_insulation_is_tested_on_every_net_at_the_receiver():
    nets = strip_nets(shipped(SWITCHED))
    assert [net.terminals[0] for net in nets if net.earth] == ["K1:park-E"]
    assert {net.terminals[0] for net in nets} == {"K1:L", "K1:N", "K1:on", "K1:park-E"}


def test_line_is_read_in_the_first_test_and_the_call_in_the_test_that_calls():
    first = {r.terminal: r.volts for r in live(SWITCHED)[0].readings}
    assert first == {"K1:L": "230 V", "K1:on": "0 V"}
    assert any(r.terminal == "K1:on" and r.volts == "230 V"
               for test in live(SWITCHED) for r in test.readings)


def test_a_volt_free_pair_is_never_given_a_voltage_to_expect():
    # What stands on it comes from the boiler and may be mains: common practice, no source.
    read = {r.terminal for test in live(PAIRED) for r in (*test.readings, *test.reads)}
    assert "K1:L" in read
    assert not read & {"K1:common", "K1:on", "K1:off"}
