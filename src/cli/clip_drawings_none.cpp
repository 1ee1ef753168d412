// Instead of clip_drawings.cpp where no letters can be set: in the program that Node runs. A page draws its own.
#include "cli/clip_drawings.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

std::vector<Message> drawing_problems(const ClipOptions& asked) {
  if (asked.drawing.empty()) return {};
  return {say::draws_nothing()};
}

Drawn draw(const site::Site&, const results::ClipAnswer&, const ClipOptions&, Screen&) { return {}; }

}  // namespace zoneproof::cli
