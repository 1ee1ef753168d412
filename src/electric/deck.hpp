#pragma once
#include <string>
#include <vector>

#include "site/model.hpp"

namespace zoneproof::electric {

/// The site's network at its nominal values as a deck that ngspice runs in batch as it is, for anyone to check.
///
/// One circuit for each supply condition, armed and disarmed; in it every state of every wired zone is an operating
/// point, the other zones at rest. Node and element names are those of `levels --json`. Each operating point is
/// announced by a line `point SUPPLY/ARMED/ZONE/STATE` and prints the terminal of its zone and every input and arming
/// input of the units.
///
/// What a deck cannot say exactly: a wire that is open in one state is 1e15 ohm, a short that exists only in some
/// states is 1e-4 ohm (less than 1 uV at a milliampere); a connection of no resistance is a source of 0 V. Diodes and
/// constant power are the laws of src/circuit/laws.hpp as current sources.
std::string deck(const site::Site& site);

/// One operating point of the deck and what the engine itself makes of it: for tests that run the deck.
struct DeckPoint {
  std::string name;  ///< as announced
  struct Voltage {
    std::string node;
    double volts;
  };
  std::vector<Voltage> voltages;  ///< of the nodes printed, by this engine; nodes without a defined voltage left out
};
std::vector<DeckPoint> deck_points(const site::Site& site);

}  // namespace zoneproof::electric
