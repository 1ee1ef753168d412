#pragma once
#include <nlohmann/json.hpp>

#include "base/json_patch.hpp"
#include "site/document.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

/// Two versions of site files that never were, below the real ones: the mechanism that brings older ones up is tried on
/// these, where something has to be renamed. Version -1 called the name "title"; version 0 gave cable lengths in feet.
inline const Format& old_format() {
  using Json = nlohmann::ordered_json;
  static const Format format = {
      "zoneproof-site",
      kSiteVersion,
      &record_of<Site>,
      {{-1,
        [](Json& document) {
          apply_patch(document, Json::parse(R"([{"op": "move", "from": "/title", "path": "/name"}])"));
        }},
       {0,
        [](Json& document) {
          const auto cables = document.find("cables");
          if (cables == document.end() || !cables->is_object()) return;
          for (auto& cable : *cables) {
            if (!cable.is_object() || !cable.contains("length_ft") || !cable.at("length_ft").is_number()) continue;
            cable["length_m"] = cable.at("length_ft").get<double>() * 0.3048;
            cable.erase("length_ft");
          }
        }},
       {1, [](Json&) {}},
       {2, [](Json&) {}}}};
  return format;
}

}  // namespace zoneproof::site
