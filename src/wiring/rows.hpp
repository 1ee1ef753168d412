#pragma once
#include <memory>
#include <string>
#include <vector>

#include "wiring/row.hpp"

/// The kinds of rows.
namespace zoneproof::wiring {

/// The loop of a zone with its detectors and their supply, its cable, the panel's terminals, and the wires of
/// `triggers` that tap it, with what stands at the unit. `owner`: the zone in whose entry the loop stands.
std::unique_ptr<Row> loop_row(const Context& context, const std::string& owner,
                              const std::vector<std::string>& triggers);

/// A trigger from a contact of a detector or a receiver that is no part of a loop.
std::unique_ptr<Row> contact_row(const Context& context, const std::string& trigger);

/// A trigger from an output of the panel.
std::unique_ptr<Row> output_row(const Context& context, const std::string& trigger);

/// How a unit learns armed from disarmed.
std::unique_ptr<Row> arming_row(const Context& context, const std::string& unit);

/// Where a unit's supply comes from: battery, supply, fuse, cable.
std::unique_ptr<Row> feed_row(const Context& context, const std::string& unit);

/// What joins two negatives.
std::unique_ptr<Row> bond_row(const Context& context, const std::string& bond);

/// Of a trigger without a wire: its channel and why.
std::unique_ptr<Row> wireless_row(const Context& context, const std::string& trigger);

}  // namespace zoneproof::wiring
