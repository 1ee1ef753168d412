#pragma once
#include <string>
#include <vector>

#include "carriage/network_site.hpp"

namespace zoneproof::carriage {

/// The small network with all that is asked about addresses, exposure and monitoring, as it should be: 192.168.20.0/24
/// without a pool, every address in it known (yard .10, hall .11, recorder .12, unit .13, router .14), no services, no
/// forwarding; the unit's gateway is the router; the path is of category SP5, reports within 75 s and is let out.
Json addressed_network();

/// An RFC 6902 patch from its operations, each an object without brackets.
std::string patch_of(const std::vector<std::string>& operations);
/// One operation: sets what stands at the pointer, there before or not; `value` is JSON.
std::string set(const std::string& pointer, const std::string& value);

/// The verdict of the only answer to one check of one subject, of the addressed network with these changes.
chain::Verdict verdict_of(Check check, const std::string& id, const std::string& subject,
                          const std::vector<std::string>& operations = {});

}  // namespace zoneproof::carriage
