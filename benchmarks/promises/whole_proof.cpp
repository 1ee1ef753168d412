// The electrical proof of generated sites beside ngspice on the same sites, and how it grows.
#include <fmt/format.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <stdexcept>

#include "electric/deck.hpp"
#include "promises/own_process.hpp"
#include "promises/progress.hpp"
#include "promises/proof_alone.hpp"

namespace zoneproof::promises {

namespace {

/// ngspice in batch on the deck of the site: every state in every supply condition once, corners left out. The deck is
/// written before the clock starts.
double spice_seconds(unsigned zones, double most_seconds) {
  const Progress progress(fmt::format("ngspice on the deck of {} zones", zones));
  const std::filesystem::path deck =
      std::filesystem::temp_directory_path() / fmt::format("zoneproof-promise-{}.cir", getpid());
  std::ofstream(deck) << electric::deck(generated_site(zones));
  const std::string command =
      fmt::format("timeout {:.0f} ngspice -b '{}' > /dev/null 2>&1", most_seconds, deck.string());
  int status = 0;
  const double seconds = seconds_once([&] { status = std::system(command.c_str()); });
  std::filesystem::remove(deck);
  if (status != 0) throw std::runtime_error("ngspice fails on the deck");
  return seconds;
}

/// Nothing where it takes longer than allowed. In the deck every state of every zone is a point of the network of the
/// whole site, so twice the zones take four times as long at the least: what must take too long is not begun.
std::optional<double> spice_alone(unsigned zones, const Effort& effort) {
  static std::map<unsigned, std::optional<double>> tried;  // nothing: stopped, and would be again
  for (const auto& [smaller, seconds] : tried) {
    const double times = static_cast<double>(zones) / smaller;
    if (smaller < zones && (!seconds || *seconds * times * times > effort.most_seconds)) return std::nullopt;
  }
  const auto alone = measured_alone(effort.most_seconds,
                                    [&] { return std::vector<double>{spice_seconds(zones, effort.most_seconds)}; });
  std::optional<double>& seconds = tried[zones];
  if (alone) seconds = alone->figures.at(0);
  return seconds;
}

/// A size of the site, and what its proof took if it was made.
struct Grown {
  unsigned zones = 0;
  std::optional<ProofCost> cost;
};

Figure per_zone(const Grown& now, const Grown& before, const Effort& effort) {
  Figure figure;
  figure.promise = fmt::format("growth: proof per zone, {} zones", now.zones);
  figure.beside = fmt::format("itself, {} zones", before.zones);
  figure.unit = "ms";
  figure.aim_ratio = 1.0;
  figure.limit = now.cost ? "every level of a zone is a worst case of its own" : left_out(now.zones, effort);
  if (before.cost) figure.theirs = 1e3 * before.cost->seconds / before.zones;
  if (now.cost) figure.ours = 1e3 * now.cost->seconds / now.zones;
  return figure;
}

Figure beside_spice(unsigned zones, const Effort& effort) {
  const std::optional<ProofCost> cost = proof_alone(zones, effort);
  const std::optional<double> spice = spice_alone(zones, effort);
  Figure figure;
  figure.promise = fmt::format("whole electrical proof, {} zones", zones);
  figure.beside = "ngspice, each state of the site's deck once, no corners";
  if (!spice) figure.beside += fmt::format(": more than {:g} s with its deck, left out", effort.most_seconds);
  figure.unit = "ms";
  figure.aim_ratio = 10.0;
  if (zones == 200U) figure.aim_ours = 50.0;
  figure.limit = cost ? "every level is a worst case of its own network, written down and searched by itself"
                      : left_out(zones, effort);
  if (spice) figure.theirs = 1e3 * *spice;
  if (cost) figure.ours = 1e3 * cost->seconds;
  return figure;
}

Figure memory(const Grown& now) {
  Figure figure;
  figure.promise = fmt::format("growth: memory of the proof, {} zones", now.zones);
  figure.unit = "MB";
  figure.aim_ours = 300.0;  // of 5,000 zones
  figure.ours = now.cost->megabytes;
  figure.limit = "the site, and the levels of every zone that is being proven";
  return figure;
}

}  // namespace

std::vector<Figure> whole_proof(const Effort& effort) {
  std::vector<Figure> figures;
  for (const unsigned zones : {12U, 50U, 200U}) figures.push_back(beside_spice(zones, effort));
  return figures;
}

std::vector<Figure> growth(const Effort& effort) {
  std::vector<Figure> figures;
  Grown before{12, proof_alone(12, effort)}, largest;
  for (const unsigned zones : {50U, 200U, 1000U, 5000U}) {
    const Grown now{zones, proof_alone(zones, effort)};
    figures.push_back(per_zone(now, before, effort));
    if (now.cost) largest = now;
    before = now;
  }
  if (largest.cost) figures.push_back(memory(largest));
  return figures;
}

}  // namespace zoneproof::promises
