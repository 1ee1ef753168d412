#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "materials/price_list.hpp"
#include "site/model.hpp"

namespace zoneproof::handover {

struct PricesRead {
  materials::PriceList list;
  std::vector<Message> problems;  ///< with any of them the list is not to be used
  std::vector<Message> notes;     ///< rows that price nothing here
};

/// An installer's price list, read and held against the site that it is for. `file` is what messages call it.
PricesRead prices_for(const site::Site& site, std::string_view text, const std::string& file);

}  // namespace zoneproof::handover
