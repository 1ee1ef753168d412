#pragma once
#include <string>

#include "chain/evidence.hpp"

/// Links and verdicts for people, in the spoken language. Programs and files have `word()`, the same in all languages.
namespace zoneproof::chain {

std::string words(Link link);
std::string words(Verdict verdict);

}  // namespace zoneproof::chain
