#pragma once
#include <string>
#include <string_view>

#include "messages/site.hpp"
#include "site/findings.hpp"
#include "site/model.hpp"
#include "site/words.hpp"

/// What the rules of a file (checks.hpp) say in the same way: a member that has no meaning beside another, two ends in
/// the wrong order. What is unknown contradicts nothing.
namespace zoneproof::site {

/// A value that says something about a thing that is there ("none" says that it is not).
inline bool stated(const Value& value) { return value.known(); }
inline bool stated(const Ref& reference) { return reference.known(); }
inline bool stated(const Count& count) { return count.known(); }
inline bool stated(const Flag& flag) { return flag.known(); }
template <class E>
inline bool stated(const Word<E>& word) {
  return word.known();
}

/// The key at the end of a pointer.
std::string last_token(std::string_view pointer);

/// Unless it `fits`, `member` has no meaning where `other` is `word`.
template <class T, class E>
void unless(bool fits, const T& member, std::string_view other, E word, Findings& findings) {
  if (fits || !stated(member)) return;
  findings.add(say::site_contradiction(last_token(member.pointer), std::string(other), std::string(word_of(word))),
               member.pointer);
}

/// Two ends of which the lower one must not be above the higher one.
void check_ends(const Value& low, const Value& high, std::string_view low_key, std::string_view high_key,
                Findings& findings);

inline constexpr int kShownDigits = 9;  ///< of numbers that are shown as they were stated

}  // namespace zoneproof::site
