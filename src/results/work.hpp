#pragma once
#include <nlohmann/json_fwd.hpp>

#include "field/order_of_work.hpp"
#include "materials/materials.hpp"

/// Order of work and materials as JSON.
namespace zoneproof::results {

/// {"steps": [...], "phases": [...], "left_alone": [...]}. Of a reading that has no upper end "high" is null and
/// "unbounded" true; of one that is not known "low", "nominal" and "high" are null and "gaps" say why.
nlohmann::ordered_json json_of(const field::OrderOfWork& work);

/// {"cables", "parts", "work", "minutes", "notes", "price"}. Amounts of money are texts with all their places
/// ("1250.00"), so that nobody's binary fractions change them; "price" is null where there is none.
nlohmann::ordered_json json_of(const materials::Materials& materials);

}  // namespace zoneproof::results
