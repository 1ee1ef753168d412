#include "promises/proof_alone.hpp"

#include <fmt/format.h>

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>

#include "electric/answers.hpp"
#include "large_site.hpp"
#include "promises/own_process.hpp"
#include "promises/progress.hpp"
#include "site/file.hpp"

namespace zoneproof::promises {

namespace {

double proof_seconds(unsigned zones) {
  const site::Site site = generated_site(zones);
  Progress progress(fmt::format("proving {} zones", zones));
  const auto told = [&progress](std::size_t done, std::size_t of) { progress(fmt::format("{} of {}", done, of)); };
  return seconds_once([&] {
    if (electric::electrical_answers(site, "", told).empty()) throw std::runtime_error("nothing was proven");
  });
}

}  // namespace

site::Site generated_site(unsigned zones) {
  site::ReadResult read = site::read_site(large::site_text(zones, 1), "generated");
  if (!read.site) throw std::runtime_error("the generated site has a fault");
  return std::move(*read.site);
}

site::Site demo_site(const std::string& name) {
  const std::string path = ZONEPROOF_SOURCE_DIR "/data/demo/" + name + ".site.json";
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  site::ReadResult read = site::read_site(text.str(), path);
  if (!read.site) throw std::runtime_error(path + " has a fault, or is not there");
  return std::move(*read.site);
}

std::string left_out(unsigned zones, const Effort& effort) {
  return fmt::format("left out: the proof of {} zones takes more than {:g} s (--most-seconds)", zones,
                     effort.most_seconds);
}

std::optional<ProofCost> proof_alone(unsigned zones, const Effort& effort) {
  static std::map<unsigned, std::optional<ProofCost>> tried;  // nothing: stopped, and would be again
  const auto before = tried.find(zones);
  if (before != tried.end()) return before->second;
  for (const auto& [smaller, cost] : tried) {
    if (smaller < zones && (!cost || cost->seconds * zones / smaller > effort.most_seconds)) return std::nullopt;
  }
  const auto measured =
      measured_alone(effort.most_seconds, [zones] { return std::vector<double>{proof_seconds(zones)}; });
  std::optional<ProofCost>& cost = tried[zones];
  if (measured) cost = ProofCost{measured->figures.at(0), measured->megabytes};
  return cost;
}

}  // namespace zoneproof::promises
