#pragma once
#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "remedies/remedy.hpp"
#include "results/questions.hpp"

/// The question remedies.
namespace zoneproof::results {

using Problems = std::vector<remedies::Problem>;

/// Cost: remedies/remedy.hpp.
Answered<Problems> answer(const site::Site& site, const RemediesQuestion& question, const Progress& progress);

/// The remedy of a number: they are numbered through from 1, in the order of the list; null where there is none.
const remedies::Remedy* numbered(const Problems& problems, long long number);
long long count_of_remedies(const Problems& problems);

nlohmann::ordered_json json_of(const Problems& problems);

}  // namespace zoneproof::results
