#include "carriage/addressed_site.hpp"

namespace zoneproof::carriage {

Json addressed_network() {
  Json file = small_network();
  file["networks"]["net"]["has_pool"] = false;
  file["networks"]["net"]["addresses_complete"] = true;
  for (auto& address : file["addresses"])
    address.update({{"own_password", true}, {"services", Json::object()}, {"services_complete", true}});
  file["addresses"]["a_unit"]["gateway"] = "router";
  file["routers"]["router"].update({{"forwarded", Json::object()}, {"forwarded_complete", true}});
  file["monitoring_paths"]["path"].update(
      {{"category", "sp5"}, {"reporting_s", 75}, {"port", 443}, {"outbound_permitted", true}});
  return file;
}

std::string patch_of(const std::vector<std::string>& operations) {
  std::string patch = "[";
  for (const std::string& operation : operations) patch += (patch.size() > 1 ? "," : "") + operation;
  return patch + "]";
}

std::string set(const std::string& pointer, const std::string& value) {
  return R"({"op": "add", "path": ")" + pointer + R"(", "value": )" + value + "}";
}

chain::Verdict verdict_of(Check check, const std::string& id, const std::string& subject,
                          const std::vector<std::string>& operations) {
  const chain::Evidence found = only(check(network_of(addressed_network(), patch_of(operations))), id, subject);
  EXPECT_TRUE(found.says.has_value());
  EXPECT_EQ(found.gaps.empty(), found.verdict != chain::Verdict::unanswered) << id << " of " << subject;
  EXPECT_EQ(found.link, chain::Link::deliver);
  return found.verdict;
}

}  // namespace zoneproof::carriage
