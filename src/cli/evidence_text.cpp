#include "cli/evidence_text.hpp"

#include <algorithm>

#include "chain/words.hpp"
#include "cli/text_width.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

using chain::Evidence;
using chain::Gap;
using chain::Verdict;

constexpr std::size_t kVerdictIndent = 2, kTextIndent = 23, kLabelIndent = 23 + 10;
/// A corner of more parameters than this is shortened: the first are those that move the value most.
constexpr std::size_t kMostOfCorner = 6;
/// And of data that are missing: check lists them all.
constexpr std::size_t kMostOfGaps = 6;

std::string margin_words(const Evidence& evidence) {
  const Measure margin = {*evidence.margin, evidence.unit, 3};
  if (!evidence.required_margin) return shown(margin);
  return text(say::margin_of_asked(margin, {*evidence.required_margin, evidence.unit, 3}));
}

/// What the text needs of a condition: the supply, where the sentence does not say it.
std::string condition_words(const Evidence& evidence) {
  const std::string first = evidence.condition.substr(0, evidence.condition.find('/'));
  for (electric::SupplyCondition condition : electric::all_supply_conditions()) {
    if (first != electric::word(condition)) continue;
    const std::string words = electric::supply_words(condition);
    return evidence.says && text(*evidence.says).find(words) != std::string::npos ? "" : words;
  }
  return evidence.says ? "" : evidence.condition;
}

void labelled(Screen& screen, const Message& label, const std::string& words) {
  if (!words.empty()) screen.entry(text(label), words, kLabelIndent, Style::faint, kTextIndent);
}

void print_sentence(Screen& screen, const Evidence& evidence) {
  std::size_t widest = 0;
  for (Verdict verdict : {Verdict::proven, Verdict::thin, Verdict::broken, Verdict::unanswered})
    widest = std::max(widest, text_width(chain::words(verdict)));
  std::string head = chain::words(evidence.verdict);
  head.append(widest + 1 - text_width(head), ' ');
  head += chain::words(evidence.link);
  screen.entry(head, evidence.says ? text(*evidence.says) : evidence.id, kTextIndent, style_of(evidence.verdict),
               kVerdictIndent);
}

void print_gaps(Screen& screen, const site::Site& site, const std::vector<Gap>& gaps) {
  std::size_t told = 0;
  for (const Gap& gap : gaps) {
    if (gap.reason == "later_issue") continue;
    if (told++ == kMostOfGaps) {
      labelled(screen, say::label_missing(),
               text(say::and_more_missing(static_cast<long long>(gaps.size() - kMostOfGaps))));
      return;
    }
    labelled(screen, say::label_missing(), gap_words(site, gap));
  }
}

std::string source_words(const std::string& source, bool verified) {
  return source + (verified ? "" : " " + text(say::limit_not_verified()));
}

}  // namespace

bool of_later_version(const Evidence& evidence) {
  return !evidence.gaps.empty() && std::all_of(evidence.gaps.begin(), evidence.gaps.end(),
                                               [](const Gap& gap) { return gap.reason == "later_issue"; });
}

void print_evidence_again(Screen& screen, const Evidence& evidence, const std::string& told_at) {
  print_sentence(screen, evidence);
  screen.line(text(say::told_at(told_at)), kTextIndent, Style::faint);
}

void print_evidence(Screen& screen, const site::Site& site, const Evidence& evidence) {
  print_sentence(screen, evidence);
  if (evidence.margin) {
    labelled(screen, say::label_margin(),
             margin_words(evidence) + ", " +
                 text(evidence.kind == chain::BoundKind::exact ? say::kind_exact() : say::kind_bounded()));
  }
  if (!evidence.margin_source.empty()) {
    labelled(screen, say::label_margin_source(), source_words(evidence.margin_source, evidence.margin_verified));
  }
  labelled(screen, say::label_condition(), condition_words(evidence));
  labelled(screen, say::label_corner(), corner_words(site, evidence.corner, kMostOfCorner));
  if (!evidence.limit_source.empty()) {
    labelled(screen, say::label_limit(), source_words(evidence.limit_source, evidence.limit_verified));
  }
  print_gaps(screen, site, evidence.gaps);
  for (const Message& remedy : evidence.remedies) labelled(screen, say::label_remedy(), text(remedy));
}

}  // namespace zoneproof::cli
