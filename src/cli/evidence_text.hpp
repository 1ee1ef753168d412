#pragma once
#include <string>

#include "chain/evidence.hpp"
#include "cli/screen.hpp"
#include "results/evidence_words.hpp"
#include "site/model.hpp"

namespace zoneproof::cli {

/// One piece of evidence in full: verdict and link, the sentence, margin against what is asked, condition, corner,
/// where the limit comes from and whether it is verified, what is missing, remedies. Parts that it does not have are
/// left out.
void print_evidence(Screen& screen, const site::Site& site, const chain::Evidence& evidence);

/// Verdict, link and sentence alone, and where the rest was told before.
void print_evidence_again(Screen& screen, const chain::Evidence& evidence, const std::string& told_at);

/// Whether it only says that this version has no answer: told once for a site, not once for a zone.
bool of_later_version(const chain::Evidence& evidence);

using results::corner_place_words;
using results::corner_words;
using results::gap_words;
using results::place_words;

}  // namespace zoneproof::cli
