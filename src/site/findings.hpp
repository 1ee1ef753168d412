#pragma once
#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"

namespace zoneproof::site {

/// What is wrong with one file, collected while it is read and checked. Of each kind of problem the first
/// `kMostOfOneKind` are kept; the rest are counted and told in one message, so a file with a million faults gives a
/// page of text and not a million lines.
class Findings {
 public:
  static constexpr std::size_t kMostOfOneKind = 25;

  explicit Findings(std::string file) : file_(std::move(file)) {}

  /// A problem at `pointer`; `at_key` where the key itself is wrong and not its value.
  void add(Message message, std::string_view pointer, bool at_key = false);

  /// The candidate that is spelled most like `word`; empty where none is near (more than a third of its letters
  /// differ), and after `kMostSuggestions` questions, so that a hostile file cannot buy much work.
  template <class Candidates>
  std::string nearest(std::string_view word, const Candidates& candidates) {
    if (suggestions_++ >= kMostSuggestions) return "";
    Nearest best(word);
    for (const auto& candidate : candidates) best.consider(candidate);
    return best.found;
  }

  bool any() const { return !kinds_.empty(); }

  /// All messages with their lines and columns, in the order of the text, which must be what the pointers refer to.
  std::vector<Message> in_text(std::string_view text);
  /// All messages by pointer, without lines: for documents that have no text.
  std::vector<Message> by_pointer();

 private:
  static constexpr std::size_t kMostSuggestions = 300;

  struct Nearest {
    explicit Nearest(std::string_view wanted) : word(wanted), distance(wanted.size() / 3 + 1) {}
    void consider(std::string_view candidate);
    std::string_view word;
    std::size_t distance;  ///< of the best so far; what is to be beaten
    std::string found;
  };

  /// The problems of one code.
  struct Kind {
    std::size_t count = 0;
    Message last;               ///< the last one that is listed
    std::string first_omitted;  ///< where the first one stands that is not
  };

  void tell_omitted();

  std::string file_;
  std::vector<Message> messages_;
  std::map<std::string, Kind, std::less<>> kinds_;
  std::size_t suggestions_ = 0;
};

}  // namespace zoneproof::site
