#pragma once
#include <string>

#include "sheets/place_words.hpp"
#include "sheets/plan_numbers.hpp"
#include "sight/zone_view.hpp"
#include "site/model.hpp"

/// What plans and expected pictures call things.
namespace zoneproof::sheets {

/// "Zone 6"; where its number is not known, its name.
std::string zone_words(const site::Site& site, const std::string& zone);
/// "Zone 6 Kiln room".
std::string zone_heading(const site::Site& site, const std::string& zone);

/// "93.2 % of it is seen", or why that cannot be said.
std::string seen_words(const sight::ZoneView& view, const PlaceWords& called);

/// What a blind patch is in the list: "2.3 m², behind Racking A".
std::string blind_words(const site::Site& site, const NumberedPatch& patch);

}  // namespace zoneproof::sheets
