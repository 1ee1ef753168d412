#include "electric/kept_answers.hpp"

#include <algorithm>

#include "base/language.hpp"

namespace zoneproof::electric {

namespace {

constexpr std::size_t excerpts_of_a_thing = 4;  // the last edits of one thing; more would be memory for nothing

}  // namespace

std::vector<chain::Evidence> KeptAnswers::of(const std::string& thing, const site::Site& excerpt,
                                             const Answering& answering) {
  const site::Fingerprint of = site::fingerprint(excerpt);
  const std::string key = std::string(code_of(spoken_language())) + "/" + thing;  // answers hold words
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    std::list<Kept>& here = kept_[key];
    const auto known = std::find_if(here.begin(), here.end(), [&](const Kept& one) { return one.of == of; });
    if (known != here.end()) {
      ++found_;
      here.splice(here.begin(), here, known);
      return known->answers;
    }
  }
  std::vector<chain::Evidence> answers = answering(excerpt);
  const std::lock_guard<std::mutex> lock(mutex_);
  ++given_;
  std::list<Kept>& here = kept_[key];
  here.push_front({of, answers});
  if (here.size() > excerpts_of_a_thing) here.pop_back();
  return answers;
}

std::size_t KeptAnswers::found() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return found_;
}

std::size_t KeptAnswers::given() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return given_;
}

}  // namespace zoneproof::electric
