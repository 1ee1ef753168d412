// The electrical proof of generated sites beside ngspice on the same sites, and how it grows.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <limits>
#include <stdexcept>
#include <string>

#include "electric/answers.hpp"
#include "electric/deck.hpp"
#include "large_site.hpp"
#include "promises/promise.hpp"
#include "site/file.hpp"

namespace zoneproof::promises {

namespace {

constexpr double nobody = std::numeric_limits<double>::quiet_NaN();

site::Site site_of(unsigned zones) {
  const site::ReadResult read = site::read_site(large::site_text(zones, 1), "generated");
  if (!read.site) throw std::runtime_error("the generated site has a fault");
  return *read.site;
}

double proof_seconds(const site::Site& site) {
  return seconds_once([&] {
    if (electric::electrical_answers(site).empty()) throw std::runtime_error("nothing was proven");
  });
}

/// ngspice in batch on the deck of the site: every state in every supply condition once, corners left out.
double spice_seconds(const site::Site& site) {
  const std::filesystem::path folder = std::filesystem::temp_directory_path();
  const std::filesystem::path deck = folder / "zoneproof-promise.cir";
  std::ofstream(deck) << electric::deck(site);
  const std::string command = "ngspice -b '" + deck.string() + "' > /dev/null 2>&1";
  const double seconds = seconds_once([&] {
    if (std::system(command.c_str()) != 0) throw std::runtime_error("ngspice fails on the deck");
  });
  std::filesystem::remove(deck);
  return seconds;
}

Figure proof_beside_spice(const site::Site& site, unsigned zones, double seconds) {
  Figure figure;
  figure.promise = "whole electrical proof, all states, conditions and corners, " + std::to_string(zones) + " zones";
  figure.beside = "ngspice, the site's deck: every state once, corners and unit conditions left out";
  figure.unit = "ms";
  figure.aim = 10.0;
  figure.ours = 1e3 * seconds;
  figure.theirs = 1e3 * spice_seconds(site);
  figure.limit = "every level is a worst case of its own network; nothing is shared between states and conditions yet";
  return figure;
}

Figure growth(unsigned zones, double per_zone, double per_zone_before) {
  Figure figure;
  figure.promise = "growth: proof per zone, " + std::to_string(zones) + " zones";
  figure.beside = "itself with a quarter of the zones";
  figure.unit = "ms";
  figure.aim = 1.0;
  figure.ours = 1e3 * per_zone;
  figure.theirs = 1e3 * per_zone_before;
  figure.limit = "a supply's proof looks at all that hangs on it";
  return figure;
}

}  // namespace

std::vector<Figure> whole_proofs() {
  std::vector<Figure> figures;
  double before = nobody;
  for (const unsigned zones : {12U, 50U, 200U}) {
    const site::Site site = site_of(zones);
    const double seconds = proof_seconds(site);
    const double per_zone = seconds / zones;
    if (zones == 200U) figures.push_back(proof_beside_spice(site, zones, seconds));
    if (zones > 12U) figures.push_back(growth(zones, per_zone, before));
    before = per_zone;
  }
  return figures;
}

}  // namespace zoneproof::promises
