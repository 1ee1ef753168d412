#include "handover/cells.hpp"

#include <cmath>

#include "base/message.hpp"
#include "base/outward.hpp"
#include "chain/words.hpp"
#include "messages/handover_chapters.hpp"
#include "results/field_words.hpp"

namespace zoneproof::handover {

using chain::Verdict;
using drawing::VerdictMark;

paper::Cell verdict_cell(Verdict verdict) { return verdict_cell(verdict, chain::words(verdict)); }

paper::Cell verdict_cell(Verdict verdict, std::string says) {
  constexpr VerdictMark marks[] = {VerdictMark::proven, VerdictMark::thin, VerdictMark::broken,
                                   VerdictMark::unanswered};
  return paper::Verdict{marks[static_cast<std::size_t>(verdict)], std::move(says)};
}

paper::Cell quantity_cell(const std::optional<double>& value, const std::string& unit) {
  if (!value || !std::isfinite(*value)) return paper::Blank{};
  constexpr int digits = 3;
  return paper::Number{*value, digits, paper::Digits::significant, unit};
}

paper::Cell margin_cell(const std::optional<double>& value, const std::string& unit) {
  return quantity_cell(value ? std::optional(lowest({*value, unit}).value) : value, unit);
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
