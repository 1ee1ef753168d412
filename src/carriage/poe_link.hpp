#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/tracked.hpp"
#include "site/model.hpp"

/// Power over a data cable, as a circuit: a port, a cable there and back, a load that takes the same power whatever its
/// voltage. Method and where it is not exact: docs/methods/power-over-data-cables.md.
namespace zoneproof::carriage {

/// Voltage at a load of constant power behind a loop resistance: the larger root of
///
///     V^2 - Vs V + P R = 0,    V = (Vs + sqrt(Vs^2 - 4 P R)) / 2,
///
/// where a regulator settles; nothing where there is none (P > Vs^2 / 4 R): the load pulls the voltage down. It falls
/// with P and R and rises with Vs. Volts, ohms, watts, none negative; the limits of IEEE 802.3 are its values.
std::optional<double> voltage_at_load(double source_V, double loop_ohm, double power_W);

/// What gives power over a data link.
struct PowerGiver {
  std::string id;                          ///< of a switch or an injector; empty where an end of the link is unknown
  std::string part;                        ///< its part; empty where unknown
  std::string missing;                     ///< pointer to what is unknown, where `serves` is null
  const site::Count* serves = nullptr;     ///< highest class that a port serves; null where the part is unknown
  const site::Value* port_V = nullptr;     ///< lowest voltage at a port
  const site::Count* poe_ports = nullptr;  ///< of a switch: how many of its ports give power
};

/// A camera that takes its power over its data link.
struct PoweredCamera {
  std::string camera, link;
  PowerGiver giver;
  const site::CameraSpec* spec = nullptr;  ///< null where its part is unknown
  std::string part, part_pointer;
};

/// All of them, by id.
std::vector<PoweredCamera> powered_over_data(const site::Site& site);
/// Those that one switch or injector powers.
std::vector<PoweredCamera> powered_by_giver(const site::Site& site, const std::string& giver);

/// The three that make the circuit. The loop is that of all pairs of the camera's class together: with r one core with
/// its joints, 2 r / pairs. An unknown class leaves the loop unknown; a cord between neighbours has no resistance.
struct PoeCircuit {
  electric::Tracked source_V, loop_ohm, power_W;
};
PoeCircuit poe_circuit(const site::Site& site, const PoweredCamera& camera);

/// Voltage at the camera: 0 V at an end of the range where there is no solution.
electric::Tracked voltage_at_camera(const PoeCircuit& circuit);

/// What the port gives: the camera's power and what the cable turns into heat. Where the circuit has no solution at an
/// end, what a port of that class sets aside there; above that it switches off.
electric::Tracked power_at_port(const site::Site& site, const PoweredCamera& camera);

}  // namespace zoneproof::carriage
