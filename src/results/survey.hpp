#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "results/kept.hpp"
#include "results/questions.hpp"
#include "site/model.hpp"

/// The question check: what is still to be found out.
namespace zoneproof::results {

/// Something to find out: a datum that some verdict waits for.
struct OpenDatum {
  std::string pointer;
  std::string reason;   ///< of chain::Gap
  std::string thing;    ///< what a person calls the object it stands in
  std::string meaning;  ///< what is asked
};

/// Reasons in the order in which they are worth asking; what has another reason is nothing that a person finds out.
const std::vector<std::string>& survey_reasons();

struct Survey {
  std::vector<OpenDatum> open;      ///< each datum once: by reason, then pointer
  std::vector<std::string> broken;  ///< zones with a broken link as the file stands, whatever else is found out
};

/// What keeps any answer from being one. Cost: that of a proof.
Survey survey(const site::Site& site, const Progress& progress, Kept* kept = nullptr);
nlohmann::ordered_json json_of(const std::vector<OpenDatum>& open);

}  // namespace zoneproof::results
