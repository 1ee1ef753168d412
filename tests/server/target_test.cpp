#include "server/target.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "server/guard.hpp"

namespace zoneproof::server {
namespace {

using Path = std::vector<std::string>;

TEST(Target, IsTakenApart) {
  const auto target = read_target("/api/sites/old%20mill?page=2&of=unit+3&empty");
  ASSERT_TRUE(target);
  EXPECT_EQ(target->path, (Path{"api", "sites", "old mill"}));
  EXPECT_EQ(target->asked("page"), "2");
  EXPECT_EQ(target->asked("of"), "unit 3");
  EXPECT_EQ(target->query.count("empty"), 1u);
  EXPECT_EQ(target->asked("none"), "");
  EXPECT_EQ(read_target("/")->path, Path{""});
}

TEST(Target, IsRefusedWhereTwoReadersCouldDiffer) {
  for (const char* target : {"",        "api",   "*",         "http://elsewhere/api",
                             "/a/../b", "/a/.",  "/%2e%2e/b", "/a%2fb",
                             "/a%5Cb",  "/a\\b", "/%00",      "/a%0d%0ab",
                             "/%c0%ae", "/%ff",  "/%",        "/%4",
                             "/%zz",    "/a#b",  "/?a=1&a=2", "/?a=%0"})
    EXPECT_FALSE(read_target(target)) << target;
}

RC_GTEST_PROP(Target, SegmentsNeverLeaveTheirPlace, (const std::string& text)) {
  const auto target = read_target("/" + text);
  if (!target) return;
  for (const std::string& segment : target->path) {
    RC_ASSERT(segment != "..");
    RC_ASSERT(segment.find('/') == std::string::npos);
    RC_ASSERT(segment.find('\0') == std::string::npos);
  }
}

/// RFC 3986 section 2.1, from the other side.
RC_GTEST_PROP(Target, PercentCodesComeBack, (const std::string& text)) {
  std::string coded;
  for (const unsigned char byte : text) {
    constexpr const char* kDigits = "0123456789ABCDEF";
    coded += '%';
    coded += kDigits[byte / 16];
    coded += kDigits[byte % 16];
  }
  RC_ASSERT(percent_decoded(coded, false) == text);
}

Request with(std::vector<Header> headers) {
  Request request;
  request.headers = std::move(headers);
  return request;
}

TEST(Cookies, AreFoundByTheirWholeName) {
  EXPECT_EQ(cookie_of(with({{"Cookie", "a=1; visit=two; b=3"}}), "visit"), "two");
  EXPECT_EQ(cookie_of(with({{"cookie", "visit=two"}, {"Cookie", "b=3"}}), "visit"), "two");
  EXPECT_EQ(cookie_of(with({{"Cookie", "my_visit=two; visits=3"}}), "visit"), "");
  EXPECT_EQ(cookie_of(with({{"Cookie", "visit=one; visit=two"}}), "visit"), "") << "one of them is not ours";
  EXPECT_EQ(cookie_of(with({}), "visit"), "");
}

TEST(Languages, AreChosenByWeight) {
  const auto chosen = [](const char* wanted) { return code_of(language_of(wanted)); };
  EXPECT_EQ(chosen("de"), "de");
  EXPECT_EQ(chosen("fr-CH, fr;q=0.9, en;q=0.8, de;q=0.7, *;q=0.5"), "en");  // RFC 9110 section 12.5.4
  EXPECT_EQ(chosen("en;q=0.2, DE-at ; q=0.3"), "de");
  EXPECT_EQ(chosen("de;q=0"), "en");
  EXPECT_EQ(chosen("de;q=nan"), "en");
  EXPECT_EQ(chosen(""), "en");
}

TEST(Encodings, GzipIsTakenWhereItIsNotRefused) {
  EXPECT_TRUE(takes_gzip("gzip, deflate, br"));
  EXPECT_TRUE(takes_gzip("br;q=1.0, GZIP;q=0.5"));
  EXPECT_FALSE(takes_gzip("gzip;q=0, identity"));
  EXPECT_FALSE(takes_gzip("x-gzip"));
  EXPECT_FALSE(takes_gzip(""));
}

TEST(Tags, AreComparedWeakly) {  // RFC 9110 section 13.1.2
  EXPECT_TRUE(names_tag(R"("a", W/"b")", R"("b")"));
  EXPECT_TRUE(names_tag("*", R"("b")"));
  EXPECT_FALSE(names_tag(R"("bb")", R"("b")"));
  EXPECT_FALSE(names_tag("", R"("b")"));
}

TEST(Hosts, LoseTheirPort) {
  EXPECT_EQ(host_without_port("Workshop.local:8460"), "workshop.local");
  EXPECT_EQ(host_without_port("workshop.local."), "workshop.local");
  EXPECT_EQ(host_without_port("[::1]:8460"), "::1");
  EXPECT_EQ(host_without_port("127.0.0.1"), "127.0.0.1");
  for (const char* bad : {"", "[::1", "a:b", "a:80:90", "user@host", "a b", "a/b", "[::1]x", "a:"})
    EXPECT_EQ(host_without_port(bad), "") << bad;
}

TEST(Guard, TakesOnlyNamesOfThisMachine) {
  const Names names = {"workshop.local"};
  EXPECT_FALSE(host_problem(with({{"Host", "localhost:1"}}), names));
  EXPECT_FALSE(host_problem(with({{"Host", "WORKSHOP.local"}}), names));
  EXPECT_TRUE(host_problem(with({{"Host", "elsewhere.example"}}), names));
  EXPECT_TRUE(host_problem(with({{"Host", "localhost"}, {"Host", "localhost"}}), names));
  EXPECT_TRUE(host_problem(with({}), names));
}

TEST(Guard, TakesOnlyTheProgramsOwnPage) {
  Request request = with({{"Host", "localhost:1"}, {"Origin", "http://localhost:1"}});
  EXPECT_FALSE(origin_problem(request));
  request.secure = true;
  EXPECT_TRUE(origin_problem(request)) << "another scheme is another origin";
  EXPECT_TRUE(origin_problem(with({{"Host", "localhost:1"}, {"Origin", "http://localhost:2"}})));
  EXPECT_TRUE(origin_problem(with({{"Host", "localhost:1"}, {"Origin", "null"}})));
  EXPECT_TRUE(origin_problem(with({{"Host", "localhost:1"}, {"Sec-Fetch-Site", "same-site"}})));
  EXPECT_FALSE(origin_problem(with({{"Host", "localhost:1"}, {"Sec-Fetch-Site", "none"}})));
  EXPECT_FALSE(origin_problem(with({{"Host", "localhost:1"}}))) << "no browser";
}

}  // namespace
}  // namespace zoneproof::server
