#pragma once
#include <vector>

#include "base/message.hpp"
#include "cli/commands.hpp"
#include "cli/drawn.hpp"
#include "site/model.hpp"

/// What the command handover writes.
namespace zoneproof::cli {

/// Why nothing may be written as asked; asked before anything is computed.
std::vector<Message> drawing_problems(const HandoverOptions& asked);

/// What was written, and what is to be said of it.
struct Papers {
  Drawn drawn;
  bool all_proven = false;     ///< of chains and site, as `prove` has it
  std::vector<Message> notes;  ///< also after a failure: what lies under another name since then
};

/// Computes the site and writes the handover file with its parts, and the list of all of them. Files of the list that
/// was in the folder before, and that this revision no longer has, are removed where they are as they were written.
Papers draw(const site::Site& site, const HandoverOptions& asked, Screen& screen);

}  // namespace zoneproof::cli
