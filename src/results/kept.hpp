#pragma once
#include "electric/kept_answers.hpp"
#include "sight/kept_views.hpp"

namespace zoneproof::results {

/// Answers to earlier states of a site, given again where nothing they rest on has changed. May be used from several
/// threads, for one site and its variants.
struct Kept {
  electric::KeptAnswers wiring;
  sight::KeptViews views;
};

}  // namespace zoneproof::results
