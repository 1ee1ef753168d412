// Instead of sight_drawings.cpp where no letters can be set: in the program that Node runs. A page draws its own.
#include "cli/sight_drawings.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

std::vector<Message> drawing_problems(const SightOptions& asked) {
  if (asked.plan.empty() && asked.pictures.empty()) return {};
  return {say::draws_nothing()};
}

Drawn draw(const site::Site&, const results::SightAnswer&, const SightOptions&, Screen&) { return {}; }

}  // namespace zoneproof::cli
