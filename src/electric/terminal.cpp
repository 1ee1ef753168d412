// The panel's side of a zone's pair: what drives it, what it refers to, where it is measured.
#include "electric/terminal.hpp"

#include "electric/element_name.hpp"
#include "electric/loop.hpp"

namespace zoneproof::electric {

using circuit::Node;

namespace {

/// A current source that has run out of voltage still falls by this much per ampere: 1 mA is 0.1 uV.
constexpr double compliance_slope_ohm = 1e-4;

class TerminalBuilder {
 public:
  TerminalBuilder(const site::ZoneTerminalSpec& spec, const std::string& zone, Poles panel,
                  const TerminalSurroundings& around, Wiring& wiring)
      : spec_(spec), zone_(zone), panel_(panel), around_(around), wiring_(wiring) {
    terminal_.spec = &spec;
    terminal_.point = wiring.network.node(part_name(zone, "t"));
  }

  Terminal build() {
    name_missing();
    switch (spec_.refers_to.value.value_or(site::TerminalReference::negative)) {
      case site::TerminalReference::positive: from_positive(); break;
      case site::TerminalReference::current_source: current_source(); break;
      case site::TerminalReference::optocoupled: optocoupled(); break;
      case site::TerminalReference::floating:
        refer_to(wiring_.network.node(part_name(zone_, floating_reference)));
        pulled_up();
        break;
      default: refer_to(panel_.minus); pulled_up();
    }
    measuring();
    return terminal_;
  }

 private:
  /// Only a steady terminal is what a network at rest says it is.
  void name_missing() {
    if (!spec_.refers_to.known()) wiring_.missing(spec_.refers_to.pointer, "unknown");
    if (!spec_.drive.known()) wiring_.missing(spec_.drive.pointer, "unknown");
    if (pulsed(spec_) && !(around_.part && settles())) wiring_.missing(spec_.drive.pointer, "later_issue");
    if (spec_.refers_to.is(site::TerminalReference::matrix)) wiring_.missing(spec_.refers_to.pointer, "later_issue");
  }

  /// Whether the pulses of the terminal can be followed: those of a source behind a resistance that papers tell.
  bool settles() const {
    return !around_.measured && !spec_.refers_to.is(site::TerminalReference::current_source) &&
           !spec_.refers_to.is(site::TerminalReference::optocoupled);
  }

  void refer_to(Node reference) {
    terminal_.common = reference;
    terminal_.against = reference;
    terminal_.pulled_to = reference;
  }

  /// A source that is switched is not the rail itself, even where it is all of it.
  bool whole_rail() const {
    return !pulsed(spec_) && spec_.source.is(site::TerminalSource::raw_rail) && spec_.source_pct.known() &&
           spec_.source_pct.low == 100.0 && spec_.source_pct.high == 100.0;
  }

  /// What the source gives. A share of the rail: the rail's own range, freed from the rail in the network, which is
  /// safe.
  Tracked source_volts() {
    if (!spec_.source.known()) wiring_.missing(spec_.source.pointer, "unknown");
    if (around_.measured && around_.measured->volts) return *around_.measured->volts;
    if (!spec_.source.is(site::TerminalSource::raw_rail)) return tracked(spec_.source_V, 0.0);
    return scaled(tracked(spec_.source_pct, 100.0), 0.01) * around_.rail_V;
  }

  /// The same, in the part of its period in which a pulsed terminal stands.
  Tracked driven_volts() {
    if (!pulsed(spec_)) return source_volts();
    if (spec_.drive.is(site::TerminalDrive::alternating))
      return drive_volts(spec_, around_.part.value_or(DrivePart::on), {});
    return drive_volts(spec_, around_.part.value_or(DrivePart::on), source_volts());
  }

  /// The open-circuit source above the reference. All of a rail that is not isolated is the rail itself, coupling and
  /// all.
  void add_source() {
    if (whole_rail() && terminal_.against == panel_.minus) {
      terminal_.source = panel_.plus;
      return;
    }
    terminal_.source = wiring_.network.node(part_name(zone_, "source"));
    source_ = wiring_.voltage(part_name(zone_, "source"), terminal_.against, terminal_.source, driven_volts());
  }

  /// From the source to the screw. Known by readings, the two are known together.
  void pull(Node from, Node to) {
    Tracked ohm = around_.measured ? around_.measured->ohm : around_.pullup;
    if (around_.part && lets_go(spec_, *around_.part)) ohm.range = circuit::Range::exactly(circuit::infinite);
    const circuit::ElementIndex pullup = wiring_.resistor(part_name(zone_, "pullup"), from, to, ohm);
    if (!source_ || !around_.measured || around_.measured->corners.empty()) return;
    wiring_.joint({*source_, pullup, from, around_.measured->corners});
  }

  void pulled_up() {
    add_source();
    pull(terminal_.source, terminal_.point);
  }

  /// Loop between the panel's positive and the screw, which is pulled down inside: read downward from the positive.
  void from_positive() {
    refer_to(panel_.plus);
    terminal_.source = panel_.plus;
    terminal_.sign = -1.0;
    terminal_.pulled_to = panel_.minus;
    if (!whole_rail()) {
      terminal_.pulled_to = wiring_.network.node(part_name(zone_, "source"));
      source_ = wiring_.voltage(part_name(zone_, "source"), terminal_.pulled_to, panel_.plus, driven_volts());
    }
    pull(terminal_.pulled_to, terminal_.point);
  }

  void current_source() {
    refer_to(panel_.minus);
    wiring_.current(part_name(zone_, "drive"), panel_.minus, terminal_.point, tracked(spec_.current_A, 0.0));
    if (spec_.source_V.none()) wiring_.missing(spec_.source_V.pointer, "unknown");
    terminal_.source = wiring_.network.node(part_name(zone_, "source"));
    wiring_.voltage(part_name(zone_, "source"), panel_.minus, terminal_.source, tracked(spec_.source_V, 0.0));
    wiring_.diode(part_name(zone_, "reach"), terminal_.point, terminal_.source, Tracked::fact(0.0),
                  Tracked::fact(compliance_slope_ohm));
  }

  void optocoupled() {
    refer_to(panel_.minus);
    add_source();
    const Node led = wiring_.network.node(part_name(zone_, "led"));
    pull(terminal_.source, led);
    wiring_.diode(part_name(zone_, "led"), led, terminal_.point, tracked(spec_.forward_V, 0.0),
                  Tracked::fact(led_slope_ohm));
  }

  /// Series resistance and measuring input behind the screw; the input loads it towards the terminal's reference.
  void measuring() {
    terminal_.sense = terminal_.point;
    if (spec_.input_ohm.none() || (around_.measured && around_.measured->holds_input)) return;
    if (!spec_.series_ohm.none()) {
      terminal_.sense = wiring_.network.node(part_name(zone_, "sense"));
      wiring_.resistor(part_name(zone_, "series"), terminal_.point, terminal_.sense, tracked(spec_.series_ohm, 0.0));
    }
    wiring_.resistor(part_name(zone_, "input"), terminal_.sense, terminal_.against,
                     tracked(spec_.input_ohm, circuit::infinite));
  }

  const site::ZoneTerminalSpec& spec_;
  const std::string& zone_;
  Poles panel_;
  const TerminalSurroundings& around_;
  Wiring& wiring_;
  Terminal terminal_;
  std::optional<circuit::ElementIndex> source_;  ///< a source of its own, not the rail
};

}  // namespace

Terminal build_terminal(const site::ZoneTerminalSpec& spec, const std::string& zone, Poles panel,
                        const TerminalSurroundings& around, Wiring& wiring) {
  return TerminalBuilder(spec, zone, panel, around, wiring).build();
}

circuit::Quantity panel_reading(const Terminal& terminal) {
  return {{{terminal.sense, terminal.sign}, {terminal.against, -terminal.sign}}};
}

}  // namespace zoneproof::electric
