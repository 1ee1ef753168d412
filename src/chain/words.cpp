#include "chain/words.hpp"

#include "messages/chain.hpp"

namespace zoneproof::chain {

std::string words(Link link) {
  switch (link) {
    case Link::sense: return text(say::link_sense());
    case Link::loop: return text(say::link_loop());
    case Link::trigger: return text(say::link_trigger());
    case Link::view: return text(say::link_view());
    default: return text(say::link_deliver());
  }
}

std::string words(Verdict verdict) {
  switch (verdict) {
    case Verdict::proven: return text(say::verdict_proven());
    case Verdict::thin: return text(say::verdict_thin());
    case Verdict::broken: return text(say::verdict_broken());
    default: return text(say::verdict_unanswered());
  }
}

}  // namespace zoneproof::chain
