#pragma once
#include <optional>
#include <string>
#include <vector>

#include "materials/materials.hpp"

/// Every thing of a site as so much of something at some place.
namespace zoneproof::materials {

struct Piece {
  ItemKind kind = ItemKind::other;
  std::string item, name;  ///< as of PartCount
  std::string place;       ///< unique with `item`: the id of the thing, and what it is there
  bool metres = false;
  std::optional<double> count;  ///< nothing: not known
  double estimated = 0.0;       ///< how much of it is an estimate
};

/// The schedule of a site's cables, by id.
std::vector<CableRow> cable_rows(const site::Site& site);

/// The name of one of them.
std::string cable_called(const std::vector<CableRow>& cables, const std::string& id);

/// All pieces of a site with these cables. Things whose part is not known have an empty item.
std::vector<Piece> pieces_of(const site::Site& site, const std::vector<CableRow>& cables);

}  // namespace zoneproof::materials
