#pragma once
#include <string>
#include <vector>

#include "results/kept.hpp"
#include "results/questions.hpp"
#include "site/model.hpp"

/// Question in, text out: the one way from a question to results, for commands and sessions.
namespace zoneproof::results {

/// What comes back to a program.
struct Reply {
  std::string text;  ///< zoneproof-results; of the question schema without a field the schema itself
  int status = 0;    ///< as the commands exit: 0 all proven or done, 1 something is not, 2 bad question
};

/// Answers a question about a site. `notes` are what reading the site left to be said (check tells them). `site` may be
/// null for the questions that need none (needs_site). `kept`: answers to earlier states of the site, which are given
/// again where nothing they rest on has changed; may be null. Throws only what must not happen. Cost: that of the
/// answer.
Reply ask(const site::Site* site, const std::vector<Message>& notes, const Question& question,
          const Progress& progress = {}, Kept* kept = nullptr);

/// Whether the question is about a site: not about the shelf, the formats, or readings that it brings itself.
bool needs_site(const Question& question);

/// The word that asks it: "prove".
std::string command_of(const Question& question);

/// The results of what was refused.
Reply refusal(const std::string& command, const std::vector<Message>& problems);

}  // namespace zoneproof::results
