#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "site/file.hpp"

namespace zoneproof::site {

/// A person's own parts, as read.
struct OwnParts {
  Map<Part> parts;
  std::string name;     ///< of their file, for messages
  bool faulty = false;  ///< their file had errors, so there may be more parts than are here
};

/// A site from a parsed document. `text` is what it was parsed from, for lines and columns; without it messages have
/// pointers only. `own` may be null.
ReadResult read_site_json(const nlohmann::ordered_json& json, const std::string& name,
                          std::optional<std::string_view> text, const OwnParts* own);

}  // namespace zoneproof::site
