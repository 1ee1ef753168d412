#pragma once
#include <cstddef>
#include <functional>
#include <list>
#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/fingerprint.hpp"

namespace zoneproof::electric {

/// Answers already given, kept by what they rest on, so that an edit costs what it touches: the answers for one thing
/// are a function of its excerpt (excerpt.hpp), and an excerpt of the same fingerprint has been answered before. Of
/// each thing the last few excerpts are kept: an edit that is taken back is answered from here too. May be used from
/// several threads, for one site and its variants; results do not depend on what is kept.
class KeptAnswers {
 public:
  using Answering = std::function<std::vector<chain::Evidence>(const site::Site& excerpt)>;

  /// `thing`: whose answers, e.g. "zone/z1". Cost where they are kept: the excerpt's fingerprint.
  std::vector<chain::Evidence> of(const std::string& thing, const site::Site& excerpt, const Answering& answering);

  std::size_t found() const;  ///< how many answers were taken from here
  std::size_t given() const;  ///< how many had to be given

 private:
  struct Kept {
    site::Fingerprint of;
    std::vector<chain::Evidence> answers;
  };
  mutable std::mutex mutex_;
  std::map<std::string, std::list<Kept>> kept_;  ///< by language and thing, the last used first
  std::size_t found_ = 0, given_ = 0;
};

}  // namespace zoneproof::electric
