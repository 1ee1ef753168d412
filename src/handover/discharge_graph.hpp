#pragma once
#include "drawing/sheet.hpp"
#include "paper/blocks.hpp"
#include "results/supply.hpp"

/// Over how many hours the batteries of a supply go down, what is asked for, and where it ends.
namespace zoneproof::handover {

/// For a chapter. `run` is one of `answer` and has points.
paper::Figure discharge_figure(const drawing::Ruler& ruler, const site::Site& site, const results::SupplyAnswer& answer,
                               const results::BatteryRun& run);

/// On a lying A4 sheet of its own, named "discharge-SUPPLY".
drawing::Sheet discharge_sheet(const drawing::Ruler& ruler, const site::Site& site, const results::SupplyAnswer& answer,
                               const results::BatteryRun& run);

}  // namespace zoneproof::handover
