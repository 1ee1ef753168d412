#include "handover/cells.hpp"

#include <cmath>

#include "base/message.hpp"
#include "messages/handover_chapters.hpp"
#include "results/field_words.hpp"

namespace zoneproof::handover {

using chain::Link;
using chain::Verdict;
using drawing::VerdictMark;

std::string verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::proven: return text(say::paper_proven());
    case Verdict::thin: return text(say::paper_thin());
    case Verdict::broken: return text(say::paper_broken());
    case Verdict::unanswered: break;
  }
  return text(say::paper_unanswered());
}

paper::Cell verdict_cell(Verdict verdict) {
  constexpr VerdictMark marks[] = {VerdictMark::proven, VerdictMark::thin, VerdictMark::broken,
                                   VerdictMark::unanswered};
  return paper::Verdict{marks[static_cast<std::size_t>(verdict)], verdict_words(verdict)};
}

std::string link_words(Link link) {
  switch (link) {
    case Link::sense: return text(say::paper_sense());
    case Link::loop: return text(say::paper_loop());
    case Link::trigger: return text(say::paper_trigger());
    case Link::view: return text(say::paper_view());
    case Link::deliver: break;
  }
  return text(say::paper_deliver());
}

std::string type_words(const site::Word<site::ZoneType>& type) {
  using site::ZoneType;
  if (!type.known()) return {};
  switch (*type.value) {
    case ZoneType::intruder: return text(say::type_intruder());
    case ZoneType::entry_exit: return text(say::type_entry_exit());
    case ZoneType::follower: return text(say::type_follower());
    case ZoneType::twenty_four_hour: return text(say::type_twenty_four_hour());
    case ZoneType::tamper: return text(say::type_tamper());
    case ZoneType::fire: return text(say::type_fire());
    case ZoneType::hold_up: return text(say::type_hold_up());
    case ZoneType::technical: return text(say::type_technical());
    case ZoneType::access: break;
  }
  return text(say::type_access());
}

paper::Cell quantity_cell(const std::optional<double>& value, const std::string& unit) {
  if (!value || !std::isfinite(*value)) return paper::Blank{};
  return paper::said(shown({*value, unit, 3}));
}

paper::Cell value_cell(const site::Value& value, const std::string& unit) {
  if (value.none()) return paper::said(text(say::paper_none()));
  if (!value.known()) return paper::Blank{};
  return paper::said(results::value_words(value, unit));
}

std::string source_words(const std::string& source, bool verified) {
  return verified || source.empty() ? source : text(say::paper_not_verified(source));
}

}  // namespace zoneproof::handover
