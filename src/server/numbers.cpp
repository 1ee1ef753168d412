#include "server/numbers.hpp"

#include <algorithm>
#include <charconv>

#include "messages/server.hpp"

namespace zoneproof::server {

namespace {

constexpr long long kLargest = 1'000'000'000'000'000;

}  // namespace

long long number_of(const std::string& text, const std::string& called, std::vector<Message>& problems) {
  long long number = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  if (read.ec == std::errc() && read.ptr == text.data() + text.size() && number >= 0 && number <= kLargest)
    return number;
  problems.push_back(say::server_number_wanted(called, text));
  return 0;
}

long long number_asked(const Target& target, const std::string& key, long long otherwise,
                       std::vector<Message>& problems) {
  const std::string text = target.asked(key);
  return text.empty() ? otherwise : number_of(text, key, problems);
}

std::string word_asked(const Target& target, const std::string& key, const std::vector<std::string>& known,
                       std::vector<Message>& problems) {
  std::string word = target.asked(key);
  if (!word.empty() && std::find(known.begin(), known.end(), word) == known.end())
    problems.push_back(say::server_word_unknown(key, word, known));
  return word;
}

void only_asked(const Target& target, const std::vector<std::string>& known, std::vector<Message>& problems) {
  for (const auto& entry : target.query)
    if (std::find(known.begin(), known.end(), entry.first) == known.end())
      problems.push_back(say::server_query_unknown(entry.first, known));
}

}  // namespace zoneproof::server
