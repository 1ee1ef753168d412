// Instead of handover_drawings.cpp where no letters can be set: in the program that Node runs. A page draws its own.
#include "cli/handover_drawings.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

std::vector<Message> drawing_problems(const HandoverOptions&) { return {say::draws_nothing()}; }

Papers draw(const site::Site&, const HandoverOptions&, Screen&) { return {}; }

}  // namespace zoneproof::cli
