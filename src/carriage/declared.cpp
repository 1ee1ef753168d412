#include "carriage/declared.hpp"

namespace zoneproof::carriage {

chain::Evidence declared(const Asked& asked, Said said) {
  chain::Evidence evidence = open(asked, {});
  evidence.verdict = said.verdict;
  evidence.says = std::move(said.sentence);
  evidence.remedies = std::move(said.remedies);
  return evidence;
}

chain::Evidence undeclared(const Asked& asked, std::vector<chain::Gap> gaps, Message sentence) {
  chain::Evidence evidence = open(asked, std::move(gaps));
  evidence.says = std::move(sentence);
  return evidence;
}

chain::Evidence declared_unless(std::vector<chain::Gap> gaps, const Asked& asked, Message open_sentence, Said said) {
  return gaps.empty() ? declared(asked, std::move(said)) : undeclared(asked, std::move(gaps), std::move(open_sentence));
}

}  // namespace zoneproof::carriage
