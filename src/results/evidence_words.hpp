#pragma once
#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// What evidence rests on, in the words of screen and paper.
namespace zoneproof::results {

/// What makes an extreme, as a person calls it: "Panel supply, voltage at which the battery is cut off: 10.2 V; cable
/// Keypad, each core: 0.898 ohm". Equal ones stand once; of more than `most` the number of the others is told.
std::string corner_words(const site::Site& site, const std::vector<chain::CornerValue>& corner, std::size_t most);

/// What is missing, and why: "source_V of part x: not known".
std::string gap_words(const site::Site& site, const chain::Gap& gap);

/// What is missing, for paper, where nobody looks a key up: "Mobile network, how long the carrier goes on: not known".
std::string missing_words(const site::Site& site, const chain::Gap& gap);

/// "cable Keypad, each core", "Panel supply, voltage at which the battery is cut off": what is changed there.
std::string corner_place_words(const site::Site& site, const std::string& pointer);

/// The same as what others are given to call places by. Keeps a reference to the site.
std::function<std::string(const std::string& pointer)> names_of_places(const site::Site& site);

/// "length_m of cable trunk": a place in the file, with the key under which it is entered.
std::string place_words(const site::Site& site, const std::string& pointer);

}  // namespace zoneproof::results
