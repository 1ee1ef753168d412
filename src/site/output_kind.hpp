#pragma once
#include <optional>

#include "site/model.hpp"

/// What an output of a panel is electrically, as far as the site tells.
namespace zoneproof::site {

/// By its part; nothing where that is unknown.
std::optional<OutputKind> output_kind(const Site& site, const Output& output);

/// Whether the output is known to be a relay: a dry contact, whose other side somebody has to wire.
bool is_relay(const Site& site, const Output& output);

/// The same of an output that something refers to; no where the site has none of that id.
bool is_relay(const Site& site, const Ref& output);

/// Whether a trigger's wire has a second core back: it comes from a contact without potential, of a detector or of a
/// relay output.
bool has_way_back(const Site& site, const Trigger& trigger);

}  // namespace zoneproof::site
