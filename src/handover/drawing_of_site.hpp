#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "drawing/fonts.hpp"
#include "drawing/sheet.hpp"
#include "site/model.hpp"

/// One drawing of a site by its name: for whoever wants a drawing and not the whole handover file.
namespace zoneproof::handover {

struct DrawingAsked {
  std::string drawing;  ///< "wiring", "plan", "picture" or "discharge"
  std::string of;       ///< id of a unit, camera or supply; empty: all
  std::string ink;      ///< name of a palette; empty: light
  std::string volts;    ///< of wiring: "found", "rest" or "alarm"; empty: no figures at terminals
};

/// What is wrong with the words of a request, whatever the site; empty where nothing is.
std::vector<Message> drawing_problems(const DrawingAsked& asked);

/// "light", "dark", "black_and_white"; light for every other word.
drawing::Palette palette_of(const std::string& word);

struct DrawingMade {
  std::vector<drawing::Sheet> sheets;
  std::vector<Message> problems;  ///< the site has no such thing, or nothing to draw: no sheets
  std::vector<Message> notes;     ///< letters on the sheets that no font has
};

/// Its sheets. Cost: that of what is drawn; a plan and a picture see through the whole building.
DrawingMade drawing_of_site(const site::Site& site, const DrawingAsked& asked, const drawing::Fonts& fonts);

}  // namespace zoneproof::handover
