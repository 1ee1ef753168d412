// Addresses, networks and masks against the module ipaddress of Python: what it refuses is refused, and what it takes
// is taken, written and sorted into kinds alike. ip_reference.py says where versions of it differ and where we are
// stricter.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>
#include <set>

#include "base/ip_kind.hpp"
#include "base/ip_network.hpp"

namespace zoneproof {
namespace {

using Json = nlohmann::ordered_json;

/// Texts as people and accidents write them, from a seed.
class Texts {
 public:
  std::string address() { return below(2) == 0 ? v4() : v6(); }

  std::string network() {
    const std::string first = address();
    const bool is_v4 = first.find(':') == std::string::npos;
    const int bits = is_v4 ? 32 : 128;
    const auto read = read_ip_address(first);
    const auto* inside = std::get_if<IpAddress>(&read);
    const int prefix = below(bits + 1);
    if (below(8) == 0 || inside == nullptr) return first + "/" + std::to_string(below(140));
    return text(IpNetwork::around(*inside, prefix));
  }

  std::string mask() {
    const int ones = below(33);
    std::uint32_t number = ones == 0 ? 0 : ~std::uint32_t{0} << static_cast<unsigned>(32 - ones);
    if (below(4) == 0) number = ~number;
    if (below(4) == 0) number ^= std::uint32_t{1} << static_cast<unsigned>(below(32));
    return text(IpAddress::v4(number));
  }

  /// A few characters taken out, put in or changed.
  std::string spoilt(std::string written) {
    static const std::string kSigns = "0123456789abcdefABCDEFg:.%/ []-+xX\n";
    for (int changes = 1 + below(3); changes > 0; --changes) {
      const auto at = static_cast<std::size_t>(below(static_cast<int>(written.size()) + 1));
      const char sign = kSigns[static_cast<std::size_t>(below(static_cast<int>(kSigns.size())))];
      const int how = below(4);
      if (how == 0) {
        written.insert(at, 1, sign);
      } else if (how == 1) {
        written.insert(at, written.substr(at, 2));
      } else if (at < written.size() && how == 2) {
        written.erase(at, 1);
      } else if (at < written.size()) {
        written[at] = sign;
      }
    }
    return written;
  }

  int below(int bound) { return static_cast<int>(random_() % static_cast<unsigned>(bound)); }

 private:
  /// Beginnings of what the registries name, and anything.
  std::string v4() {
    static const char* const kBegin[] = {
        "0.0.0.",      "10.",        "100.64.",  "100.127.", "127.",         "169.254.",
        "172.16.",     "172.31.",    "192.0.0.", "192.0.2.", "192.168.",     "198.18.",
        "198.51.100.", "203.0.113.", "224.",     "240.",     "255.255.255.", ""};
    std::string out = kBegin[below(18)];
    for (auto dots = std::count(out.begin(), out.end(), '.'); dots < 4; ++dots) {
      out += std::to_string(below(3) == 0 ? 255 * below(2) : below(below(20) == 0 ? 300 : 256));
      if (dots < 3) out += '.';
    }
    return out;
  }

  std::string group() {
    static const char* const kForms[] = {"%x", "%04x", "%X", "%x"};
    std::array<char, 8> out = {};
    const int bits = below(3) == 0 ? 0 : below(0x10000) >> below(13);
    std::snprintf(out.data(), out.size(), kForms[below(4)], static_cast<unsigned>(bits));
    return out.data();
  }

  std::string v6() {
    static const char* const kBegin[] = {
        "",         "fe80:", "fc00:",   "fdab:", "ff02:",      "2001:db8:", "2001:0:", "2001:1::",        "2001:2:0:",
        "2001:20:", "2002:", "3fff:0:", "100::", "64:ff9b:1:", "64:ff9b::", "::ffff:", "0:0:0:0:0:ffff:", "::"};
    std::string out = kBegin[below(18)];
    const bool gap_before = out.find("::") != std::string::npos;
    const auto colons = static_cast<int>(std::count(out.begin(), out.end(), ':'));
    const bool dotted = below(4) == 0;
    int groups = 8 - colons - (dotted ? 2 : 0);
    const int gap = gap_before || below(2) == 0 ? -1 : below(groups + 1);
    if (gap_before) groups = below(groups + 1);
    for (int i = 0; i < groups; ++i) {
      if (i == gap && i + 1 < groups) {
        if (out.empty() || out.back() != ':') out += ':';
        out += ':';
        i += below(groups - i);
        continue;
      }
      if (!out.empty() && out.back() != ':') out += ':';
      out += group();
    }
    if (dotted) {
      if (!out.empty() && out.back() != ':') out += ':';
      out += v4();
    }
    return out;
  }

  std::mt19937 random_{20260101};
};

/// By hand: the places where readers differ.
const std::vector<std::string>& corner_texts() {
  static const std::vector<std::string> texts = {"",
                                                 "0",
                                                 "1",
                                                 "1.2.3",
                                                 "1.2.3.4.5",
                                                 "1.2.3.",
                                                 ".1.2.3",
                                                 "1..2.3",
                                                 "01.2.3.4",
                                                 "1.2.3.04",
                                                 "1.2.3.00",
                                                 "1.2.3.256",
                                                 "1.2.3.1000",
                                                 "0x1.2.3.4",
                                                 "1.2.3.4 ",
                                                 " 1.2.3.4",
                                                 "+1.2.3.4",
                                                 "1.2.3.-4",
                                                 "1.2.3.4\n",
                                                 "١.2.3.4",
                                                 "１.2.3.4",
                                                 "127.1",
                                                 "2130706433",
                                                 "1,2,3,4",
                                                 ":",
                                                 "::",
                                                 ":::",
                                                 "::::",
                                                 "1",
                                                 "1:",
                                                 ":1",
                                                 "1::",
                                                 "::1",
                                                 "1:2",
                                                 "::1:2:3:4:5:6:7",
                                                 "::1:2:3:4:5:6:7:8",
                                                 "1:2:3:4:5:6:7::",
                                                 "1:2:3:4:5:6:7:8",
                                                 "1:2:3:4:5:6:7:8::",
                                                 "1:2:3:4:5:6:7:8:9",
                                                 "1:2:3:4:5:6:7",
                                                 "1::2::3",
                                                 "1:::2",
                                                 "::00001",
                                                 "::g",
                                                 "::1.2.3.4",
                                                 "1.2.3.4::",
                                                 "::1.2.3.4:5",
                                                 "1:2:3:4:5:6:1.2.3.4",
                                                 "1:2:3:4:5:6:7:1.2.3.4",
                                                 "1:2:3:4:5::1.2.3.4",
                                                 "1:2:3:4:5:6::1.2.3.4",
                                                 "::1.2.3",
                                                 "::1.2.3.256",
                                                 "::01.2.3.4",
                                                 "::1.2.3.a",
                                                 "[::1]",
                                                 "::1%eth0",
                                                 "fe80::1%",
                                                 "%",
                                                 "1.2.3.4%1",
                                                 "1.2.3.4:80",
                                                 "::1:80",
                                                 "camera.local",
                                                 "1.2.3.4/24",
                                                 "::1/64",
                                                 "::１",
                                                 "1:2:3:4:5:6:7:",
                                                 ":2:3:4:5:6:7:8",
                                                 "1::2:",
                                                 ":1::2",
                                                 "::ffff:1.2.3.4",
                                                 "::FFFF:0102:0304"};
  return texts;
}

const std::vector<std::string>& corner_networks() {
  static const std::vector<std::string> texts = {"",
                                                 "/",
                                                 "/24",
                                                 "1.2.3.0/24",
                                                 "1.2.3.4/24",
                                                 "1.2.3.4/32",
                                                 "0.0.0.0/0",
                                                 "1.2.3.0/",
                                                 "1.2.3.0/33",
                                                 "1.2.3.0/-1",
                                                 "1.2.3.0/+24",
                                                 "1.2.3.0/024",
                                                 "1.2.3.0/24/24",
                                                 "1.2.3.0",
                                                 "1.2.3.0 /24",
                                                 "1.2.3.0/ 24",
                                                 "1.2.3.0/٢٤",
                                                 "1.2.3.0/24\n",
                                                 "::/0",
                                                 "::/128",
                                                 "::/129",
                                                 "::1/128",
                                                 "fe80::/10",
                                                 "fe80::1/10",
                                                 "1.2.3.0/255.255.255.0",
                                                 "1.2.3.0/0.0.0.255",
                                                 "10.0.0.0/4294967296",
                                                 "fe80::%eth0/64",
                                                 "::/ffff::",
                                                 "1.2.3.4/31",
                                                 "::/127",
                                                 "::ffff:1.2.3.0/120"};
  return texts;
}

Json questions() {
  constexpr int kMany = 3000;
  Texts texts;
  Json out = {{"addresses", corner_texts()}, {"networks", corner_networks()}, {"masks", Json::array()}};
  out["pairs"] = Json::array();
  for (int i = 0; i < kMany; ++i) {
    out["addresses"].push_back(texts.address());
    out["addresses"].push_back(texts.spoilt(texts.address()));
    out["networks"].push_back(texts.network());
    out["networks"].push_back(texts.spoilt(texts.network()));
    out["masks"].push_back(texts.mask());
    if (i % 10 == 0) out["masks"].push_back(texts.spoilt(texts.mask()));
  }
  std::vector<IpNetwork> networks;
  for (const Json& written : out["networks"]) {
    const auto read = read_ip_network(written.get<std::string>());
    if (const auto* network = std::get_if<IpNetwork>(&read)) networks.push_back(*network);
  }
  for (std::size_t i = 0; i + 1 < networks.size(); ++i) {  // neighbours, and one inside the other
    const IpNetwork& a = networks[i];
    out["pairs"].push_back({text(a), text(networks[i + 1])});
    const int shorter = texts.below(a.prefix() + 1);
    out["pairs"].push_back({text(IpNetwork::around(a.last(), shorter)), text(a)});
    out["pairs"].push_back({text(a), text(IpNetwork::around(a.last(), shorter))});
  }
  return out;
}

/// Asked once for all tests.
struct Reference {
  Json questions;
  Json answers;
};

const Reference& reference() {
  static const Reference asked = [] {
    const std::filesystem::path folder =
        std::filesystem::path(testing::TempDir()) / ("zoneproof_ip_reference_" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    Reference out{questions(), nullptr};
    std::ofstream(folder / "questions.json", std::ios::binary) << out.questions.dump();
    const std::string command = "python3 '" ZONEPROOF_SOURCE_DIR "/tests/base/ip_reference.py' '" +
                                (folder / "questions.json").string() + "' > '" + (folder / "answers.json").string() +
                                "'";
    if (std::system(command.c_str()) == 0) {
      std::ifstream in(folder / "answers.json", std::ios::binary);
      out.answers = Json::parse(in);
    }
    return out;
  }();
  return asked;
}

class IpReference : public testing::Test {
 protected:
  void SetUp() override { ASSERT_TRUE(reference().answers.is_object()) << "needs python3"; }

  /// `check` is called with each text and its answer, null where it was refused; as many of each as promised.
  template <class Check>
  void for_each(const char* what, std::size_t least_taken, std::size_t least_refused, const Check& check) {
    const Json& texts = reference().questions.at(what);
    const Json& answers = reference().answers.at(what);
    ASSERT_EQ(texts.size(), answers.size());
    std::size_t taken = 0;
    for (std::size_t i = 0; i < texts.size(); ++i) {
      taken += answers[i].is_null() ? 0 : 1;
      check(texts[i], answers[i]);
    }
    EXPECT_GE(taken, least_taken);
    EXPECT_GE(texts.size() - taken, least_refused);
  }
};

TEST_F(IpReference, TakesAndRefusesTheSameAddressesAndWritesThemAlike) {
  for_each("addresses", 2500, 1500, [](const Json& written, const Json& answer) {
    const auto read = read_ip_address(written.get<std::string>());
    const auto* address = std::get_if<IpAddress>(&read);
    ASSERT_EQ(address != nullptr, !answer.is_null()) << written;
    if (address == nullptr) return;
    EXPECT_EQ(text(*address), answer.at("text").get<std::string>()) << written;
    EXPECT_EQ(text(address->number()), answer.at("number").get<std::string>()) << written;
    EXPECT_EQ(address->version() == IpVersion::v4 ? 4 : 6, answer.at("version").get<int>());
  });
}

/// The module has multicast among what is global; for us it is a kind of its own.
void expect_kind(IpKind kind, const Json& answer, const std::string& written) {
  const bool multicast = kind == IpKind::multicast;
  EXPECT_EQ(multicast, answer.at("multicast").get<bool>()) << written;
  EXPECT_EQ(kind == IpKind::loopback, answer.at("loopback").get<bool>()) << written;
  EXPECT_EQ(kind == IpKind::link_local, answer.at("link_local").get<bool>()) << written;
  EXPECT_EQ(kind == IpKind::unspecified, answer.at("unspecified").get<bool>()) << written;
  EXPECT_EQ(kind == IpKind::reserved || kind == IpKind::broadcast, answer.at("reserved").get<bool>()) << written;
  EXPECT_EQ(kind == IpKind::global || multicast, answer.at("global").get<bool>()) << written;
  const bool neither = kind == IpKind::shared;
  EXPECT_EQ(kind != IpKind::global && !multicast && !neither, answer.at("private").get<bool>()) << written;
}

TEST_F(IpReference, SortsAddressesIntoTheSameKinds) {
  std::size_t compared = 0;
  std::set<IpKind> seen;
  for_each("addresses", 2500, 1500, [&](const Json& written, const Json& answer) {
    if (answer.is_null() || answer.at("kinds").is_null()) return;
    const IpKind kind = ip_kind(std::get<IpAddress>(read_ip_address(written.get<std::string>())));
    seen.insert(kind);
    ++compared;
    expect_kind(kind, answer.at("kinds"), written.get<std::string>());
  });
  EXPECT_GT(compared, 2000U) << "an old module knows less, but not so little";
  EXPECT_GE(seen.size(), 11U) << "of thirteen kinds";
}

TEST_F(IpReference, TakesAndRefusesTheSameNetworksAndMeasuresThemAlike) {
  for_each("networks", 2500, 1000, [](const Json& written, const Json& answer) {
    const auto read = read_ip_network(written.get<std::string>());
    const auto* network = std::get_if<IpNetwork>(&read);
    ASSERT_EQ(network != nullptr, !answer.is_null()) << written;
    if (network == nullptr) return;
    EXPECT_EQ(text(*network), answer.at("text").get<std::string>()) << written;
    EXPECT_EQ(text(network->last()), answer.at("last").get<std::string>()) << written;
    EXPECT_EQ(text(netmask(*network)), answer.at("netmask").get<std::string>()) << written;
    EXPECT_EQ(text(size_less_one(range_of(*network))), answer.at("size_less_one").get<std::string>()) << written;
    EXPECT_EQ(text(hosts(*network).first), answer.at("hosts")[0].get<std::string>()) << written;
    EXPECT_EQ(text(hosts(*network).last), answer.at("hosts")[1].get<std::string>()) << written;
  });
}

TEST_F(IpReference, ReadsTheSamePrefixFromMasks) {
  for_each("masks", 1000, 500, [](const Json& written, const Json& answer) {
    const auto read = read_netmask(written.get<std::string>());
    const auto* prefix = std::get_if<int>(&read);
    ASSERT_EQ(prefix != nullptr, !answer.is_null()) << written;
    if (prefix == nullptr) return;
    EXPECT_EQ(*prefix, answer.get<int>()) << written;
  });
}

TEST_F(IpReference, FindsTheSameNetworksInsideOthers) {
  std::size_t inside = 0;
  for_each("pairs", 5000, 0, [&](const Json& pair, const Json& answer) {
    const auto outer = std::get<IpNetwork>(read_ip_network(pair[0].get<std::string>()));
    const auto inner = std::get<IpNetwork>(read_ip_network(pair[1].get<std::string>()));
    EXPECT_EQ(overlap(outer, inner), answer.at("overlap").get<bool>()) << pair;
    EXPECT_EQ(contains(outer, inner), answer.at("contains").get<bool>()) << pair;
    EXPECT_EQ(contains(outer, inner.first()), answer.at("first_inside").get<bool>()) << pair;
    EXPECT_EQ(common_part(range_of(outer), range_of(inner)).has_value(), overlap(outer, inner)) << pair;
    inside += contains(outer, inner) ? 1 : 0;
  });
  EXPECT_GT(inside, 1000U);
}

}  // namespace
}  // namespace zoneproof
