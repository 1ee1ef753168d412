#include "browser/session.hpp"

#include "results/question_text.hpp"

namespace zoneproof::browser {

site::PatchResult Session::apply(std::string_view patch) {
  site::PatchResult result = site::apply_patch(site_, patch, "patch", name_);
  if (!result.site) return result;
  site_ = *result.site;
  notes_ = result.messages;
  return result;
}

results::Reply Session::ask(std::string_view question, const results::Progress& progress) const {
  std::vector<Message> problems;
  const auto read = results::read_question(question, problems);
  if (!read) return results::refusal("ask", problems);
  return results::ask(results::needs_site(*read) ? &site_ : nullptr, notes_, *read, progress, kept_.get());
}

}  // namespace zoneproof::browser
