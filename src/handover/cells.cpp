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

namespace {

constexpr int kDigits = 3;

/// Nobody reads 90,000 seconds: long times are told in minutes, hours or days.
Measure in_said_unit(double value, const std::string& unit) {
  return unit == "s" ? lasting(value, kDigits) : Measure{value, unit, kDigits};
}

paper::Cell number_cell(const Measure& measure) {
  return paper::Number{measure.value, measure.significant, paper::Digits::significant, measure.unit};
}

}  // namespace

paper::Cell verdict_cell(Verdict verdict) { return verdict_cell(verdict, chain::words(verdict)); }

paper::Cell verdict_cell(Verdict verdict, std::string says) {
  constexpr VerdictMark marks[] = {VerdictMark::proven, VerdictMark::thin, VerdictMark::broken,
                                   VerdictMark::unanswered};
  return paper::Verdict{marks[static_cast<std::size_t>(verdict)], std::move(says)};
}

paper::Cell quantity_cell(const std::optional<double>& value, const std::string& unit) {
  if (!value || !std::isfinite(*value)) return paper::Blank{};
  return number_cell(in_said_unit(*value, unit));
}

paper::Cell margin_cell(const std::optional<double>& value, const std::string& unit) {
  if (!value || !std::isfinite(*value)) return paper::Blank{};
  return number_cell(lowest(in_said_unit(*value, unit)));
}

std::string value_words(const site::Value& value, const std::string& unit) {
  if (unit != "s" || !value.known() || value.nominal == 0.0) return results::value_words(value, unit);
  const Measure middle = lasting(value.nominal);
  site::Value said = value;
  for (double* one : {&said.nominal, &said.low, &said.high}) *one *= middle.value / value.nominal;
  return results::value_words(said, middle.unit);
}

paper::Cell value_cell(const site::Value& value, const std::string& unit) {
  if (value.none()) return paper::said(text(say::paper_none()));
  if (!value.known()) return paper::Blank{};
  return paper::said(value_words(value, unit));
}

std::string source_words(const std::string& source, bool verified) {
  return verified || source.empty() ? source : text(say::paper_not_verified(source));
}

}  // namespace zoneproof::handover
