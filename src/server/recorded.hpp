#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

namespace zoneproof::server {

/// What a technician may enter: what was found on site. That is a number whose origin is "measured", and meter readings
/// at terminals; everything else is a designer's. The pointer of the first operation that is neither; nothing where all
/// are. "test" changes nothing and is nobody's.
std::optional<std::string> first_not_recorded(const nlohmann::ordered_json& operations);

}  // namespace zoneproof::server
