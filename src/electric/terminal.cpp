// The panel's side of a zone's pair: what drives it, what it refers to, where it is measured.
#include "electric/loop.hpp"
#include "electric/terminal.hpp"

namespace zoneproof::electric {

using circuit::Node;

namespace {

/// The open-circuit source of a terminal above `minus`, as a node of its own.
Node add_source(const site::ZoneTerminalSpec& spec, const std::string& zone, Poles panel, const RailRange& rail,
                Node minus, Wiring& wiring) {
  if (spec.source.is(site::TerminalSource::raw_rail)) {
    const Tracked share = scaled(tracked(spec.source_pct, 100.0), 0.01);
    if (share.range.low == 1.0 && share.range.high == 1.0) return panel.plus;  // the rail itself, coupling and all
    const Node source = wiring.network.node(zone + "_source");
    // A share of the rail: the rail's own range, freed from the rail in the network, which is safe.
    wiring.voltage(zone + "_source", minus, source, share * rail.volts);
    return source;
  }
  if (!spec.source.known()) wiring.missing(spec.source.pointer, "unknown");
  const Node source = wiring.network.node(zone + "_source");
  wiring.voltage(zone + "_source", minus, source, tracked(spec.source_V, 0.0));
  return source;
}

void pull_to(const site::ZoneTerminalSpec& spec, const std::string& zone, Node from, Node point, Wiring& wiring) {
  wiring.resistor(zone + "_pullup", from, point, tracked(spec.pullup_ohm, 0.0));
}

/// Series resistance and measuring input behind the screw.
void add_measuring(const site::ZoneTerminalSpec& spec, const std::string& zone, Terminal& terminal, Node minus,
                   Wiring& wiring) {
  terminal.sense = terminal.point;
  if (spec.input_ohm.none()) return;
  if (!spec.series_ohm.none()) {
    terminal.sense = wiring.network.node(zone + "_sense");
    wiring.resistor(zone + "_series", terminal.point, terminal.sense, tracked(spec.series_ohm, 0.0));
  }
  wiring.resistor(zone + "_input", terminal.sense, minus, tracked(spec.input_ohm, circuit::infinite));
}

}  // namespace

Terminal build_terminal(const site::ZoneTerminalSpec& spec, const std::string& zone, Poles panel, const RailRange& rail,
                        Wiring& wiring) {
  Terminal terminal;
  terminal.spec = &spec;
  terminal.point = wiring.network.node(zone + "_t");
  Node minus = panel.minus;
  if (spec.refers_to.is(site::TerminalReference::floating)) minus = wiring.network.node(zone + "_floating");
  terminal.common = minus;
  terminal.against = minus;
  terminal.pulled_to = minus;

  if (spec.refers_to.is(site::TerminalReference::current_source)) {
    terminal.source = wiring.network.node(zone + "_source");
    wiring.limited_source(zone + "_source", minus, terminal.source, tracked(spec.source_V, 0.0),
                          tracked(spec.current_A, 0.0));
    wiring.resistor(zone + "_link", terminal.source, terminal.point, Tracked::fact(0.0));
  } else if (spec.refers_to.is(site::TerminalReference::positive)) {
    // Loop from the positive common to the screw, pulled down inside: the panel reads downward from the positive.
    terminal.source = add_source(spec, zone, panel, rail, minus, wiring);
    terminal.common = terminal.source;
    terminal.against = terminal.source;
    terminal.sign = -1.0;
    pull_to(spec, zone, terminal.point, minus, wiring);
  } else if (spec.refers_to.is(site::TerminalReference::optocoupled)) {
    terminal.source = add_source(spec, zone, panel, rail, minus, wiring);
    const Node led = wiring.network.node(zone + "_led");
    pull_to(spec, zone, terminal.source, led, wiring);
    wiring.diode(zone + "_led", led, terminal.point, tracked(spec.forward_V, 0.0), Tracked::fact(led_slope_ohm));
  } else {
    if (!spec.refers_to.known()) wiring.missing(spec.refers_to.pointer, "unknown");
    terminal.source = add_source(spec, zone, panel, rail, minus, wiring);
    pull_to(spec, zone, terminal.source, terminal.point, wiring);
  }
  add_measuring(spec, zone, terminal, minus, wiring);
  return terminal;
}

circuit::Quantity panel_reading(const Terminal& terminal) {
  return {{{terminal.sense, terminal.sign}, {terminal.against, -terminal.sign}}};
}

}  // namespace zoneproof::electric
