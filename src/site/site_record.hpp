#pragma once
#include <cstddef>
#include <optional>
#include <string>

#include "site/model.hpp"

/// Bounds and versions that belong to the file formats themselves.
namespace zoneproof::site {

/// Format versions that this program writes. Older ones are migrated on reading, newer ones are refused.
inline constexpr int kSiteVersion = 3;
inline constexpr int kPartsVersion = 3;
inline constexpr int kRulebookVersion = 1;
inline constexpr int kCostsVersion = 1;

// How many objects the format allows in one collection: ten times the largest sites of the trade, and small enough
// that a hostile or wrongly generated file is refused at once with one message instead of filling the memory.
// They stand in the schemas as maxProperties and maxItems.
inline constexpr std::size_t kMostZones = 10'000;
inline constexpr std::size_t kMostDetectors = 40'000;
inline constexpr std::size_t kMostCables = 80'000;
inline constexpr std::size_t kMostSupplies = 2'000;
inline constexpr std::size_t kMostPanels = 2'000;
inline constexpr std::size_t kMostUnits = 5'000;
inline constexpr std::size_t kMostAreas = 2'000;
inline constexpr std::size_t kMostPartitions = 1'000;
inline constexpr std::size_t kMostParts = 2'000;
inline constexpr std::size_t kMostRulebooks = 50;
inline constexpr std::size_t kMostAreasOfCable = 100;
inline constexpr std::size_t kMostContactsOfLoop = 200;
inline constexpr std::size_t kMostContactsOfPart = 50;
inline constexpr std::size_t kMostWindows = 50;
inline constexpr std::size_t kMostReadings = 50;
inline constexpr std::size_t kMostPresets = 200;
inline constexpr std::size_t kMostOutputsOfSupply = 50;
inline constexpr std::size_t kMostOutputsOfPanel = 200;
inline constexpr std::size_t kMostFloors = 200;
inline constexpr std::size_t kMostWalls = 50'000;
inline constexpr std::size_t kMostBlocks = 50'000;
inline constexpr std::size_t kMostPointsOfPath = 10'000;
inline constexpr std::size_t kMostCameras = 10'000;
inline constexpr std::size_t kMostMasksOfCamera = 64;
inline constexpr std::size_t kMostStreamsOfCamera = 16;
inline constexpr std::size_t kMostNetworkBoxes = 5'000;
inline constexpr std::size_t kMostServices = 1'000;
inline constexpr std::size_t kMostPlaces = 10'000;
inline constexpr std::size_t kMostViewsOfTrigger = 50;
inline constexpr std::size_t kMostRuleEntries = 2'000;
inline constexpr std::size_t kMostRulePoints = 1'000;

/// A file of parts: the shelf's and a person's own.
struct PartsFile {
  long long version = kPartsVersion;
  std::string name;
  std::string shelf_version;  ///< empty for a person's own file
  std::string note;
  std::optional<Origin> origin;  ///< of the plain numbers of parts that state none
  Map<Part> parts;
};

/// A file of one rulebook.
struct RulebookFile {
  long long version = kRulebookVersion;
  std::string id;
  Rulebook rulebook;
};

}  // namespace zoneproof::site
