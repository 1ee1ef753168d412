#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "carriage/finding.hpp"

/// Answers that rest on what the file says outright: yes or no, without numbers.
namespace zoneproof::carriage {

/// What is known, as a sentence, and what would cure it.
struct Said {
  chain::Verdict verdict = chain::Verdict::proven;
  Message sentence;
  std::vector<Message> remedies;
};
chain::Evidence declared(const Asked& asked, Said said);

/// Unanswered, for want of what `gaps` name; there has to be one.
chain::Evidence undeclared(const Asked& asked, std::vector<chain::Gap> gaps, Message sentence);

/// Unanswered where there is a gap, else what is known.
chain::Evidence declared_unless(std::vector<chain::Gap> gaps, const Asked& asked, Message open_sentence, Said said);

}  // namespace zoneproof::carriage
