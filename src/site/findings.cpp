#include "site/findings.hpp"

#include <algorithm>
#include <numeric>

#include "base/json_place.hpp"
#include "messages/site.hpp"

namespace zoneproof::site {

namespace {

/// Number of insertions, deletions, replacements and exchanges of neighbours (optimal string alignment) that turn a
/// into b; stops at `limit`, which is then returned. Cost: the product of the lengths.
std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t limit) {
  const std::size_t longer = std::max(a.size(), b.size());
  if (longer - std::min(a.size(), b.size()) >= limit) return limit;
  std::vector<std::size_t> before_last(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({replaced, last[j] + 1, row[j - 1] + 1});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
    std::swap(before_last, last);
    std::swap(last, row);
    if (*std::min_element(last.begin(), last.end()) > limit) return limit;
  }
  return std::min(last[b.size()], limit);
}

}  // namespace

void Findings::Nearest::consider(std::string_view candidate) {
  if (word.size() > 100) return;
  const std::size_t d = edit_distance(word, candidate, distance);
  if (d >= distance) return;
  distance = d;
  found = candidate;
}

void Findings::add(Message message, std::string_view pointer, bool at_key) {
  Kind& kind = kinds_[message.code];
  if (++kind.count > kMostOfOneKind) {
    if (kind.count == kMostOfOneKind + 1) kind.first_omitted = pointer;
    return;
  }
  message.place = {file_, std::string(pointer), 0, 0, at_key};
  if (kind.count == kMostOfOneKind) kind.last = message;
  messages_.push_back(std::move(message));
}

void Findings::tell_omitted() {
  for (const auto& [code, kind] : kinds_) {
    if (kind.count <= kMostOfOneKind) continue;
    const bool error = kind_of(code).severity == Severity::error;
    const auto omitted = static_cast<long long>(kind.count - kMostOfOneKind);
    Message more =
        error ? say::site_and_more(omitted, text(kind.last)) : say::site_and_more_warnings(omitted, text(kind.last));
    messages_.push_back(std::move(more).at({file_, kind.first_omitted, 0, 0, false}));
  }
}

std::vector<Message> Findings::in_text(std::string_view text) {
  tell_omitted();
  if (messages_.empty()) return {};
  place_in_text(messages_, text);
  std::stable_sort(messages_.begin(), messages_.end(), [](const Message& a, const Message& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
  return std::move(messages_);
}

std::vector<Message> Findings::by_pointer() {
  tell_omitted();
  std::stable_sort(messages_.begin(), messages_.end(),
                   [](const Message& a, const Message& b) { return a.place.pointer < b.place.pointer; });
  return std::move(messages_);
}

}  // namespace zoneproof::site
