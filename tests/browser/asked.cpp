#include "browser/asked.hpp"

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "cli/run.hpp"

namespace zoneproof::browser {

using Json = nlohmann::ordered_json;

std::vector<Asked> everything_asked() {
  return {
      {R"({"command": "check"})", {"check", "SITE"}},
      {R"({"command": "prove"})", {"prove", "SITE"}},
      {R"({"command": "prove", "links": ["trigger", "loop"], "zone": "1"})",
       {"prove", "SITE", "--links", "trigger,loop", "--zone", "1"}},
      {R"({"command": "prove", "links": ["loop", "sight"], "zone": "900"})",
       {"prove", "SITE", "--links", "loop,sight", "--zone", "900"}},
      {R"({"command": "levels"})", {"levels", "SITE"}},
      {R"({"zone": "2", "condition": "mains", "command": "levels"})",
       {"levels", "SITE", "--zone", "2", "--condition", "mains"}},
      {R"({"command": "levels", "condition": "dark"})", {"levels", "SITE", "--condition", "dark"}},
      {R"({"command": "supply"})", {"supply", "SITE"}},
      {R"({"command": "faults", "zone": "no_zone"})", {"faults", "SITE", "--zone", "no_zone"}},
      {R"({"command": "netlist"})", {"netlist", "SITE"}},
      {R"({"command": "terminal"})", {"terminal", "SITE"}},
      {R"({"command": "terminal", "open": ["4.98V"], "over": ["5k6/1%=2.49V"], "meter": "10M/1%", "error": "0.5%+3",
           "eol": ["5k6/1%"]})",
       {"terminal", "--open", "4.98V", "--over", "5k6/1%=2.49V", "--meter", "10M/1%", "--error", "0.5%+3", "--eol",
        "5k6/1%"}},
      {R"({"command": "terminal", "short": ["much"]})", {"terminal", "--short", "much"}},
      {R"({"command": "parts", "kind": "relay"})", {"parts", "relay"}},
      {R"({"command": "parts", "id": "nothing_like_it"})", {"parts", "--id", "nothing_like_it"}},
      {R"({"command": "rules", "book": "common_practice"})", {"rules", "common_practice"}},
      {R"({"command": "schema"})", {"schema"}},
      {R"({"command": "schema", "format": "parts", "field": "/parts/*/kind"})",
       {"schema", "parts", "--field", "/parts/*/kind"}},
      {R"({"command": "schema", "field": "/zones/z/sound"})", {"schema", "--field", "/zones/z/sound"}},
  };
}

std::string path_of(const std::string& path) { return std::string(ZONEPROOF_SOURCE_DIR) + "/" + path; }

std::string bytes_of(const std::string& path) {
  std::ifstream file(path_of(path), std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + path);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string command_says(std::vector<std::string> line, const std::string& site) {
  for (std::string& word : line) {
    if (word == "SITE") word = site;
  }
  line.emplace_back("--json");
  std::ostringstream out, err;
  cli::run(line, out, err, {});
  return out.str();
}

std::string patch_on(const std::string& answer, const std::string& operations) {
  Json patch = {{"format", "zoneproof-patch"}, {"version", 1}};
  patch["base_revision"] = Json::parse(answer).at("results").at("revision");
  patch["operations"] = Json::parse(operations);
  return patch.dump();
}

}  // namespace zoneproof::browser
