#pragma once
#include <array>
#include <cstdint>

#include "site/model.hpp"

namespace zoneproof::site {

/// SHA-256 over everything that code can read in a site: what the file says, and what follows from where it stands
/// there (pointers, inherited origins). Equal fingerprints: equal sites, for every purpose. It is no name of the file's
/// content, which is site_hash(); it is kept in memory only and may change with the program.
/// Cost: linear in the site, some 0.1 ms for a hundred objects.
using Fingerprint = std::array<std::uint8_t, 32>;
Fingerprint fingerprint(const Site& site);

}  // namespace zoneproof::site
