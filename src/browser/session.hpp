#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/json_place.hpp"
#include "results/ask.hpp"
#include "site/file.hpp"
#include "site/patch.hpp"

/// A site that is kept open: what a page, a server or a test edits and asks. Parsing a site costs more than most
/// edits; here it is done once. After an edit only what rests on it is proven anew.
namespace zoneproof::browser {

class Session {
 public:
  /// `site` has passed every check of reading; `name` is what messages call it; `notes` are what reading it left to be
  /// said.
  Session(site::Site site, std::string name, std::vector<Message> notes)
      : site_(std::move(site)), name_(std::move(name)), notes_(std::move(notes)) {}

  /// Applies a patch (site/patch.hpp): all of it or, where a message is an error, nothing. The patch's own places are
  /// called "patch". After it the notes are those of the new state; it has no text, so their lines are 0.
  /// Cost: linear in the site.
  site::PatchResult apply(std::string_view patch);

  /// Tells the canonical text of the site after a patch: the notes get their lines and columns in it, as if it had been
  /// read from there.
  void written_as(std::string_view text) { place_in_text(notes_, text); }

  /// Answers a question (results/question_text.hpp) with the text that the command prints with --json, byte for byte.
  /// A question about readings that it brings itself is not about this site.
  results::Reply ask(std::string_view question, const results::Progress& progress = {}) const;

  const site::Site& site() const { return site_; }
  const std::string& name() const { return name_; }
  const std::vector<Message>& notes() const { return notes_; }

 private:
  site::Site site_;
  std::string name_;
  std::vector<Message> notes_;
  /// A copy of the session is a variant of its site, and may use the same.
  std::shared_ptr<results::Kept> kept_ = std::make_shared<results::Kept>();
};

}  // namespace zoneproof::browser
