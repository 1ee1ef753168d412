// Instead of draw_drawings.cpp where no letters can be set: in the program that Node runs. A page draws its own.
#include "cli/draw_drawings.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

std::vector<Message> drawing_problems(const DrawOptions&) { return {say::draws_nothing()}; }

Drawn draw(const site::Site&, const DrawOptions&, Screen&) { return {}; }

}  // namespace zoneproof::cli
