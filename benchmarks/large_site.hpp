#pragma once
#include <cstdint>
#include <string>

/// Sites of any size, for benchmarks, tests and load: invented from a seed, complete, and mostly sound.
///
/// What is built is what is found where a system has grown: one panel for up to 128 zones, each further 16 on an
/// expander with a supply of its own; one interface unit of 16 inputs for each of them, again on its own supply; all
/// negatives of a panel joined along its bus, those of two panels not (they talk over the network). Loops with double,
/// single and no end of line, doors with several contacts on a pair, pairs that share their way back, cables of every
/// length and climate. What carries the clips: large_network.hpp.
namespace zoneproof::large {

/// The site file in canonical form. The same count and seed give the same bytes everywhere: whole numbers only are
/// drawn, by a generator of our own (splitmix64), because the distributions of the standard library differ.
/// `zones` from 1 to 32,767. Cost: linear in the zones.
std::string site_text(unsigned zones, std::uint64_t seed);

}  // namespace zoneproof::large
