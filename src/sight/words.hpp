#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "sight/coverage.hpp"
#include "site/model.hpp"

/// What was found, in words.
namespace zoneproof::sight {

/// What a person calls a thing of the building.
std::string thing_words(const site::Site& site, ThingKind kind, const std::string& id);
Message cause_message(const site::Site& site, const Cause& cause);
/// "behind Racking A; left of the picture": those that take a tenth of the patch or more. Empty where none is known.
std::string causes_words(const site::Site& site, const Patch& patch);
/// "2.3 m² around x 3.1 m, y 4.5 m (behind Racking A)".
std::string patch_words(const site::Site& site, const Patch& patch);
/// Several, the largest first; of more than `most` the number of the others is told.
std::vector<std::string> patches_words(const site::Site& site, const std::vector<Patch>& patches, std::size_t most);

/// The word of a reason in results: "hidden", "left", "right", "above", "below", "behind", "too_far", "too_near",
/// "masked", "dark", "other_level".
const char* word(Why why);
const char* word(ThingKind kind);

}  // namespace zoneproof::sight
