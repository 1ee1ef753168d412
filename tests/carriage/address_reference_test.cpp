// Addresses of random sites against the module ipaddress of Python, which address_reference.py asks.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>

#include "base/ip_network.hpp"
#include "carriage/addressing.hpp"
#include "carriage/network_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

constexpr int kSites = 400;

/// Small networks beside, in and on top of each other, and addresses at and around their ends.
class Sites {
 public:
  site::Site next() {
    site::Site site;
    site.units["unit"] = {};
    const int networks = 1 + below(4);
    for (int n = 0; n < networks; ++n) {
      const IpNetwork range = network();
      const std::string id = "n" + std::to_string(n);
      site.networks[id] = described(range);
      for (int d = 1 + below(4); d > 0; --d) add_device(site, id, range);
    }
    return site;
  }

 private:
  int below(int bound) { return static_cast<int>(random_() % static_cast<unsigned>(bound)); }

  IpNetwork network() {
    static const char* const kV4[] = {"10.0.0.0", "10.0.0.64", "127.0.0.0", "224.0.0.0", "0.0.0.0", "255.255.255.128"};
    static const char* const kV6[] = {"fd00::", "fd00::40", "::", "ff02::"};
    const bool v4 = below(3) != 0;
    const std::string first = v4 ? kV4[below(3) != 0 ? below(2) : below(6)] : kV6[below(3) != 0 ? below(2) : below(4)];
    const int longest = v4 ? 32 : 128;
    return IpNetwork::around(std::get<IpAddress>(read_ip_address(first)), longest - below(8));
  }

  /// Somewhere in the network, mostly near one of its ends, at times one beyond.
  IpAddress near(const IpNetwork& range) {
    IpAddress address = below(2) == 0 ? range.first() : range.last();
    for (int steps = below(4) - 1; steps != 0; steps += steps < 0 ? 1 : -1) {
      const bool inward = steps > 0;
      const bool up = (address.number() == range.first().number()) == inward || (inward && below(2) == 0);
      address = (up ? zoneproof::next(address) : previous(address)).value_or(address);
    }
    return address;
  }

  site::Network described(const IpNetwork& range) {
    site::Network network;
    network.range = text(range);
    network.addresses_complete.value = true;
    network.has_pool.value = below(2) == 0;
    if (network.has_pool.yes()) {
      network.pool_first = text(near(range));
      network.pool_last = text(near(range));
    }
    return network;
  }

  void add_device(site::Site& site, const std::string& network, const IpNetwork& range) {
    const std::string number = std::to_string(site.addresses.size());
    const bool router = below(5) == 0 && !site.addresses.empty();
    const std::string device = (router ? "r" : "c") + number;
    if (router) {
      site.routers[device] = {};
    } else {
      site.cameras[device] = {};
      site::Channel channel;
      channel.camera.id = device;
      channel.unit.id = "unit";
      channel.recorder.id = "none";
      channel.live_only.value = false;
      site.channels["ch" + number] = channel;
    }
    site::Address address;
    address.device.id = device;
    address.network.id = network;
    address.given_by.value = site::AddressBy::fixed;
    address.address = text(near(range));
    address.gateway.id = "none";
    site.addresses["a" + number] = address;
  }

  std::mt19937 random_{20260627};
};

Json question(const site::Site& site) {
  Json asked = {{"networks", Json::object()}, {"addresses", Json::object()}};
  for (const auto& [id, network] : site.networks) {
    asked["networks"][id] = {{"range", network.range}};
    if (network.has_pool.yes())
      asked["networks"][id].update({{"pool_first", network.pool_first}, {"pool_last", network.pool_last}});
  }
  for (const auto& [id, address] : site.addresses)
    asked["addresses"][id] = {{"network", address.network.id},
                              {"address", address.address},
                              {"router", site.routers.count(address.device.id) != 0}};
  return asked;
}

Json answers_to(const Json& questions) {
  const std::filesystem::path folder =
      std::filesystem::path(testing::TempDir()) / ("zoneproof_address_reference_" + std::to_string(getpid()));
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "sites.json", std::ios::binary) << questions.dump();
  const std::string command = "python3 '" ZONEPROOF_SOURCE_DIR "/tests/carriage/address_reference.py' '" +
                              (folder / "sites.json").string() + "' > '" + (folder / "answers.json").string() + "'";
  if (std::system(command.c_str()) != 0) return nullptr;
  std::ifstream in(folder / "answers.json", std::ios::binary);
  return Json::parse(in);
}

/// Networks in which a camera stands are asked; a network of routers alone is not.
bool is_asked(const site::Site& site, const std::string& subject) {
  const auto address = site.addresses.find(subject);
  const std::string& network = address == site.addresses.end() ? subject : address->second.network.id;
  for (const auto& entry : site.addresses)
    if (entry.second.network.id == network && site.cameras.count(entry.second.device.id) != 0) return true;
  return false;
}

TEST(AddressReference, FindsTheSameFaultsInRandomSites) {
  Sites random;
  std::vector<site::Site> sites;
  Json questions = Json::array();
  for (int i = 0; i < kSites; ++i) {
    sites.push_back(random.next());
    questions.push_back(question(sites.back()));
  }
  const Json answers = answers_to(questions);
  ASSERT_TRUE(answers.is_array()) << "needs python3";
  std::map<std::string, std::pair<int, int>> seen;  // broken, and not
  for (std::size_t i = 0; i < sites.size(); ++i) {
    const std::vector<chain::Evidence> ours = check_addressing(sites[i]);
    for (const auto& [key, broken] : answers[i].items()) {
      const std::string check = key.substr(0, key.find(' ')), subject = key.substr(key.find(' ') + 1);
      if (!is_asked(sites[i], subject)) continue;
      EXPECT_EQ(only(ours, check, subject).verdict, broken.get<bool>() ? Verdict::broken : Verdict::proven)
          << key << " in " << questions[i];
      ++(broken.get<bool>() ? seen[check].first : seen[check].second);
    }
  }
  EXPECT_EQ(seen.size(), 5u);
  for (const auto& [check, count] : seen) {
    EXPECT_GT(count.first, 50) << check;
    EXPECT_GT(count.second, 50) << check;
  }
}

}  // namespace
}  // namespace zoneproof::carriage
