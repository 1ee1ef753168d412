#pragma once
#include <cstdio>
#include <cstdlib>
#include <set>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "site/file.hpp"

/// What every fuzz target holds to.
namespace zoneproof::fuzz {

/// Stops the program where a promise is broken, and says which.
inline void hold(bool promise, const char* what) {
  if (promise) return;
  std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

/// What is said of a text as a whole has no place in it.
inline bool of_the_whole(const Message& message) {
  static const std::set<std::string> codes = {"json_empty", "json_utf16", "json_too_large", "json_more_faults",
                                              "draft_no_rows"};
  return codes.count(message.code) != 0;
}

/// A refusal is told: at least one error, every message has its words, and every error says where in `file` it is.
inline void hold_refusal(const std::vector<Message>& messages, const std::string& file) {
  bool error = false;
  for (const Message& message : messages) {
    hold(!text(message).empty(), "a message has words");
    if (kind_of(message.code).severity != Severity::error) continue;
    error = true;
    const Place& place = message.place;
    hold(!remedy(message).empty(), "an error says what to do");
    hold(place.file == file, "an error names its file");
    if (!of_the_whole(message) && place.line == 0 && place.pointer.empty())
      std::fprintf(stderr, "%s %s\n", message.code.c_str(), full_text(message).c_str());
    hold(of_the_whole(message) || place.line > 0 || !place.pointer.empty(), "an error has a place");
    hold(place.line == 0 || place.column > 0, "a line has a column");
  }
  hold(error, "a refusal has an error");
}

/// A site that was accepted is written, and read again as the same without a word.
inline void hold_site(const site::Site& site) {
  const std::string written = site::write_site(site);
  const site::ReadResult read = site::read_site(written, "again");
  for (const Message& message : read.messages) {
    if (kind_of(message.code).severity == Severity::error) std::fprintf(stderr, "%s\n", full_text(message).c_str());
  }
  hold(read.site.has_value(), "what was written is read");
  hold(site::same_site(*read.site, site), "what is read is what was written");
  hold(site::write_site(*read.site) == written, "and is written the same");
}

}  // namespace zoneproof::fuzz
