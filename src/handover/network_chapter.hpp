#pragma once
#include "handover/findings.hpp"
#include "paper/blocks.hpp"

namespace zoneproof::handover {

/// Addresses of all devices, data links with what they carry, ways out, and what is not proven of them. No password
/// ever stands on paper: the site has none.
paper::Chapter network_chapter(const Findings& findings);

}  // namespace zoneproof::handover
