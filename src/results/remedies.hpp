#pragma once
#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "remedies/remedy.hpp"
#include "results/questions.hpp"

/// The question remedies.
namespace zoneproof::results {

using Problems = std::vector<remedies::Problem>;

/// Cost: remedies/remedy.hpp.
Answered<remedies::Remedies> answer(const site::Site& site, const RemediesQuestion& question, const Progress& progress);
/// Whether there are zones and nothing of them is thin, broken, or waits for data.
bool nothing_open(const site::Site& site, const remedies::Remedies& remedies);

/// The remedy of a number: they are numbered through from 1, in the order of the list; null where there is none.
const remedies::Remedy* numbered(const Problems& problems, long long number);
long long count_of_remedies(const Problems& problems);

nlohmann::ordered_json json_of(const remedies::Remedies& remedies);

}  // namespace zoneproof::results
