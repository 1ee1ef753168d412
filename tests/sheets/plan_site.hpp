#pragma once
#include <memory>
#include <string>
#include <vector>

#include "sight/zone_view.hpp"

/// A made-up depot for the tests of plans: three rooms and a gallery, racks, a stair, two cameras, blind corners.
namespace zoneproof::sheets {

/// A site with what is seen of it.
struct SeenSite {
  site::Site site;
  std::unique_ptr<sight::Scene> scene;
  std::vector<sight::ZoneView> views;

  /// Looks at every zone anew.
  void look();
};
std::unique_ptr<SeenSite> made_up_depot();
/// Of a file's text; throws std::runtime_error with what is wrong with it.
std::unique_ptr<SeenSite> seen_site(const std::string& text);

}  // namespace zoneproof::sheets
