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

paper::Cell quantity_cell(const std::optional<double>& value, const std::string& unit) {
  if (!value || !std::isfinite(*value)) return paper::Blank{};
  constexpr int digits = 3;
  return paper::Number{*value, digits, paper::Digits::significant, unit};
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
