#pragma once
#include <map>
#include <string>
#include <vector>

#include "site/model.hpp"

/// Decks drawn by hand (decks/README.md): what ngspice makes of them, and the site that each of them is a picture of.
namespace zoneproof::electric {

/// How the engine's answer must stand to a point: its nominal value equals it; its extremes are made by the nominal and
/// corner points; its nominal value equals it, whatever the extremes; or its extremes enclose it.
enum class Claim { nominal, corner, middle, within };

struct HandPoint {
  std::string state;  ///< "alarm:a/unpowered"
  Claim claim = Claim::nominal;
  std::map<std::string, double> values;  ///< by name of the quantity, V
};

/// Runs every point of decks/NAME.cir in ngspice. Throws std::runtime_error where a deck cannot be read or solved.
std::vector<HandPoint> run_deck(const std::string& name);

/// decks/base.site.json changed by decks/NAME.patch.json. Throws std::runtime_error with the reader's messages.
/// `more`: a further merge patch.
site::Site deck_site(const std::string& name, const std::string& more = "{}");

/// The same with a merge patch given as text: a small site with the numbers of a published example.
site::Site base_site_with(const std::string& patch, const std::string& more = "{}");

}  // namespace zoneproof::electric
