// The forms of text that are addresses, networks and colours of cores: what the reader says of them, and whether the
// pattern in a schema, as an independent reader of patterns takes it (python3, module re), takes the same texts.
#include "site/text_form.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>

#include "base/ip_network.hpp"
#include "site/record_json.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

/// Only here: a thing with one field of each form.
struct Host {
  std::string address;
  std::string network;
  std::string colour;
};

template <>
const Record& record_of<Host>() {
  static const Record record = {"Host",
                                "A host.",
                                {field<&Host::address>("address").as(TextForm::ip_address, 45).means("Its address."),
                                 field<&Host::network>("network").as(TextForm::ip_network, 49).means("Its network."),
                                 field<&Host::colour>("colour").as(TextForm::core_colours, 80).means("Of its core.")},
                                sizeof(Host),
                                std::nullopt};
  return record;
}

namespace {

using Json = nlohmann::ordered_json;

/// What is said of a host; `host` gets what was read.
std::vector<Message> said_of(const Json& json, Host& host) {
  Findings findings("host.json");
  RecordReader(findings).read(record_of<Host>(), &host, json);
  return findings.by_pointer();
}

TEST(TextForm, TakesAddressesAndNetworksAsTheyAreWritten) {
  Host host;
  EXPECT_TRUE(said_of({{"address", "192.0.2.10"}, {"network", "192.0.2.0/24"}}, host).empty());
  EXPECT_EQ(host.address, "192.0.2.10");
  EXPECT_EQ(host.network, "192.0.2.0/24");
  EXPECT_TRUE(said_of({{"address", "2001:DB8::10"}, {"network", "2001:db8::/64"}}, host).empty());
  EXPECT_EQ(host.address, "2001:DB8::10") << "a text of the user is not rewritten";
  const Json written = write_record(record_of<Host>(), &host);
  EXPECT_EQ(written.at("network"), "2001:db8::/64");
}

/// The letters of IEC 60757:2021 with the colours that they stand for.
constexpr const char* kColours[] = {"BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR"};

TEST(TextForm, TakesTheColoursOfCoresAsIec60757WritesThem) {
  Host host;
  for (const std::string one : kColours) {
    EXPECT_TRUE(said_of({{"colour", one}}, host).empty()) << one;
    for (const std::string other : kColours) {
      EXPECT_TRUE(said_of({{"colour", one + other}}, host).empty()) << one << other;
      EXPECT_TRUE(said_of({{"colour", one + other + "+" + one}}, host).empty()) << one << other;
    }
  }
}

TEST(TextForm, RefusesWhatIsNoColourOfACore) {
  for (const char* text : {"red", "rd", "R", "RDX", "RDBKWH", "RD+", "+RD", "RD,BK", "RD BK", "XX", "RDR"}) {
    Host host;
    const auto messages = said_of({{"colour", text}}, host);
    ASSERT_EQ(messages.size(), 1u) << text;
    EXPECT_EQ(messages.front().code, "site_not_core_colours");
    EXPECT_EQ(messages.front().place.pointer, "/colour");
  }
}

TEST(TextForm, RefusesAnAddressInOneMessageWithPlaceReasonAndRemedy) {
  Host host;
  const auto messages = said_of({{"address", "192.0.2.300"}}, host);
  ASSERT_EQ(messages.size(), 1U);
  EXPECT_EQ(
      full_text(messages[0]),
      "host.json: /address: \"192.0.2.300\" is no IP address: a number is above 255. address is an address alone: "
      "four numbers from 0 to 255 as in 192.0.2.10, or IPv6 as in 2001:db8::10.");
  EXPECT_EQ(host.address, "") << "what is refused stays unknown";
}

TEST(TextForm, SaysWhichNetworkWasMeantWhereThatIsPlain) {
  Host host;
  const auto inside = said_of({{"network", "192.0.2.7/24"}}, host);
  ASSERT_EQ(inside.size(), 1U);
  EXPECT_EQ(
      full_text(inside[0]),
      "host.json: /network: \"192.0.2.7/24\" is no IP network: the address stands inside the network and is not its "
      "first. network would be 192.0.2.0/24, if that network is meant.");
  const auto mask = said_of({{"network", "192.0.2.0/255.255.255.128"}}, host);
  ASSERT_EQ(mask.size(), 1U);
  EXPECT_EQ(remedy(mask[0]), "network would be 192.0.2.0/25, if that network is meant.");
  const auto alone = said_of({{"network", "192.0.2.0"}}, host);
  ASSERT_EQ(alone.size(), 1U);
  EXPECT_EQ(alone[0].code, "site_not_an_ip_network");
  EXPECT_EQ(said_of({{"address", ""}, {"network", ""}}, host).size(), 2U) << "leave it out where it is unknown";
  EXPECT_EQ(said_of({{"address", 12}, {"network", true}}, host).size(), 2U);
}

/// Texts from a seed: pieces of addresses put together at random, so that many are nearly right.
std::vector<std::string> texts() {
  const char* const pieces[] = {"0", "1",    "25",   "255",   "256", "01",  ":",       "::",   ".",
                                "/", "/8",   "/24",  "/32",   "/33", "/64", "/128",    "/129", "/0",
                                "a", "fe80", "FFFF", "12345", "g",   "%",   "1.2.3.4", "1:2:3"};
  std::mt19937 random(7);
  const auto below = [&](std::size_t bound) { return static_cast<std::size_t>(random()) % bound; };
  std::vector<std::string> out = {"", "1.2.3.4\n", "1.2.3.0/24\n", "::\n", "\n::1", "1.2.3.4 ", "::ffff:1.2.3.4"};
  for (int i = 0; i < 6000; ++i) {
    std::string text;
    for (std::size_t count = 1 + below(9); count > 0; --count) text += pieces[below(std::size(pieces))];
    out.push_back(text);
    const auto number = IpAddress::v6({random() * 0x100000001ULL << below(64), random() << below(32)});
    const auto prefix = static_cast<int>(below(129));
    out.push_back(zoneproof::text(i % 2 == 0 ? number : IpAddress::v4(static_cast<std::uint32_t>(random()))));
    out.push_back(zoneproof::text(IpNetwork::around(number, prefix)));
    out.push_back(zoneproof::text(IpNetwork::around(IpAddress::v4(static_cast<std::uint32_t>(random())), prefix / 4)));
    std::string spoilt = out[out.size() - 1 - below(3)];
    spoilt.insert(below(spoilt.size() + 1), pieces[below(std::size(pieces))]);
    out.push_back(spoilt);
  }
  for (int i = 0; i < 2000; ++i) {
    std::string text;
    for (std::size_t count = below(6); count > 0; --count)
      text += below(4) == 0 ? std::string("+") : std::string(kColours[below(std::size(kColours))]);
    out.push_back(text);
    if (!text.empty()) out.push_back(text.erase(below(text.size()), 1));
  }
  return out;
}

/// No pattern can tell whether an address is the first of a network.
bool taken(const std::string& text, TextForm form) {
  const auto fault = form_fault(text, form, "key");
  if (!fault || form != TextForm::ip_network) return !fault;
  const auto read = read_ip_network(text);
  return std::get<IpFault>(read) == IpFault::host_bits;
}

constexpr TextForm kForms[] = {TextForm::ip_address, TextForm::ip_network, TextForm::core_colours};

TEST(TextForm, PatternsTakeWhatTheReaderTakes) {
  const std::filesystem::path folder = std::filesystem::path(testing::TempDir()) / "zoneproof_text_form";
  std::filesystem::create_directories(folder);
  const std::vector<std::string> all = texts();
  const Json questions = {{"patterns", {pattern_of(kForms[0]), pattern_of(kForms[1]), pattern_of(kForms[2])}},
                          {"texts", all}};
  std::ofstream(folder / "questions.json") << questions.dump();
  const std::string command =
      "python3 -c 'import json,re,sys\nq=json.load(open(sys.argv[1]))\n"
      "json.dump([[bool(re.search(p,t)) for t in q[\"texts\"]] for p in q[\"patterns\"]],"
      "sys.stdout)' '" +
      (folder / "questions.json").string() + "' > '" + (folder / "answers.json").string() + "'";
  ASSERT_EQ(std::system(command.c_str()), 0) << "needs python3";
  std::ifstream in(folder / "answers.json");
  const Json answers = Json::parse(in);
  for (std::size_t which = 0; which < std::size(kForms); ++which) {
    const TextForm form = kForms[which];
    const Json& matched = answers.at(which);
    ASSERT_EQ(matched.size(), all.size());
    std::size_t count = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
      EXPECT_EQ(matched[i].get<bool>(), taken(all[i], form)) << all[i];
      count += taken(all[i], form) ? 1 : 0;
    }
    EXPECT_GT(count, 500U);
    EXPECT_LT(count, all.size() * 9 / 10);
  }
}

}  // namespace
}  // namespace zoneproof::site
