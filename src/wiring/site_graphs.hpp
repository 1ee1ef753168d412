#pragma once
#include "wiring/graph_pages.hpp"

namespace zoneproof::wiring {

/// Supplies, panels, expanders and units; what feeds what, taps what and tells whom that it is armed.
GraphSet overview_graph(const Context& context);

/// What joins the negatives.
GraphSet negatives_graph(const Context& context);

/// The data network.
GraphSet network_graph(const Context& context);

}  // namespace zoneproof::wiring
