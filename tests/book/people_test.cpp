// People, who is logged in, and files.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "base/sha256.hpp"
#include "book/each_database.hpp"

namespace zoneproof::book {

namespace {

ON_EACH_DATABASE(People);

const std::string kToken = sha256_hex("token");

TEST_P(People, AreKeptWithRoleAndPassword) {
  const auto book = opened(address());
  good(book->add_person({"Zoë", Role::technician, "$argon2id$v=19$..."}));
  good(book->add_person({"Ada", Role::designer, ""}));
  const auto people = good(book->people());
  ASSERT_EQ(people.size(), 2U);
  EXPECT_EQ(people[0].name, "Ada");
  EXPECT_EQ(people[0].role, Role::designer);
  EXPECT_EQ(people[1].name, "Zoë");
  EXPECT_EQ(people[1].role, Role::technician);
  EXPECT_EQ(people[1].password, "$argon2id$v=19$...");
  EXPECT_FALSE(good(book->person("Eve")));
  EXPECT_EQ(codes(book->add_person({"Ada", Role::reader, ""}).problems), "book_person_taken");
  EXPECT_EQ(codes(book->change_person({"Eve", Role::reader, ""}).problems), "book_no_person");
  good(book->change_person({"Ada", Role::reader, "hash"}));
  EXPECT_EQ(good(book->person("Ada"))->role, Role::reader);
  EXPECT_EQ(good(book->person("Ada"))->password, "hash");
  EXPECT_TRUE(good(book->remove_person("Ada")));
  EXPECT_FALSE(good(book->remove_person("Ada")));
  EXPECT_EQ(codes(book->add_person({"", Role::reader, ""}).problems), "book_bad_name");
  EXPECT_EQ(codes(book->add_person({"a\x1b[2J", Role::reader, ""}).problems), "book_bad_name");
}

TEST_P(People, HaveRolesOfThreeWords) {
  for (const Role role : {Role::reader, Role::technician, Role::designer}) EXPECT_EQ(role_of(word_of(role)), role);
  EXPECT_FALSE(role_of("owner"));
}

TEST_P(People, AreLoggedInUntilTheTimeIsOver) {
  const auto book = opened(address());
  good(book->add_person({"Ada", Role::designer, ""}));
  good(book->keep_login({kToken, "Ada", "2026-03-01T08:00:00Z", "2026-03-01T20:00:00Z"}));
  EXPECT_EQ(good(book->login(kToken, "2026-03-01T19:59:59Z"))->person, "Ada");
  EXPECT_FALSE(good(book->login(kToken, "2026-03-01T20:00:00Z")));
  EXPECT_FALSE(good(book->login(sha256_hex("other"), "2026-03-01T09:00:00Z")));
  EXPECT_EQ(codes(book->login("token", "2026-03-01T09:00:00Z").problems), "book_bad_sha256");
  EXPECT_EQ(codes(book->keep_login({kToken, "Eve", kNow, kNow}).problems), "book_no_person");
  // A later login sweeps out what has ended.
  good(book->keep_login({sha256_hex("next"), "Ada", "2026-03-02T08:00:00Z", "2026-03-02T20:00:00Z"}));
  EXPECT_EQ(number_in(address(), "SELECT COUNT(*) FROM logins"), 1);
  EXPECT_TRUE(good(book->end_login(sha256_hex("next"))));
  EXPECT_FALSE(good(book->end_login(sha256_hex("next"))));
}

TEST_P(People, AreLoggedOutByAChangeAndByGoing) {
  const auto book = opened(address());
  const Login login = {kToken, "Ada", "2026-03-01T08:00:00Z", "2026-03-01T20:00:00Z"};
  good(book->add_person({"Ada", Role::designer, ""}));
  good(book->keep_login(login));
  good(book->change_person({"Ada", Role::reader, ""}));
  EXPECT_FALSE(good(book->login(kToken, "2026-03-01T09:00:00Z")));
  good(book->keep_login(login));
  good(book->remove_person("Ada"));
  EXPECT_FALSE(good(book->login(kToken, "2026-03-01T09:00:00Z")));
}

ON_EACH_DATABASE(Files);

TEST_P(Files, AreKeptOnceUnderTheirSha256) {
  const auto book = opened(address());
  const std::string bytes("\x89PNG\0\r\n\xff", 8);
  const FileEntry kept = good(book->keep_file(bytes, "image/png", "Ada", kNow));
  EXPECT_EQ(kept.sha256, sha256_hex(bytes));
  EXPECT_EQ(kept.bytes, 8);
  EXPECT_EQ(good(book->keep_file(bytes, "text/html", "Eve", kNow)).kind, "image/png") << "it stays what it was first";
  EXPECT_EQ(good(book->file_bytes(kept.sha256)), bytes);
  EXPECT_EQ(good(book->file(kept.sha256)).who, "Ada");
  EXPECT_EQ(good(book->file_bytes(good(book->keep_file("", "text/plain", "Ada", kNow)).sha256)), "");
  EXPECT_EQ(codes(book->file(sha256_hex("none")).problems), "book_no_file");
  EXPECT_EQ(codes(book->file_bytes("../../etc/passwd").problems), "book_bad_sha256");
}

TEST_P(Files, ThatAreLostOrChangedAreNeverHandedOut) {
  const auto book = opened(address());
  const std::string sha256 = good(book->keep_file("a picture", "image/png", "Ada", kNow)).sha256;
  const std::string path = address().folder + "/files/" + sha256.substr(0, 2) + "/" + sha256.substr(2);
  std::ofstream(path) << "b picture";
  EXPECT_EQ(codes(book->file_bytes(sha256).problems), "book_file_damaged");
  EXPECT_EQ(codes(good(book->check()).problems), "book_file_damaged");
  std::filesystem::remove(path);
  EXPECT_EQ(codes(book->file_bytes(sha256).problems), "book_file_lost");
  EXPECT_EQ(codes(good(book->check()).problems), "book_file_lost");
  good(book->keep_file("a picture", "image/png", "Ada", kNow));
  EXPECT_EQ(good(book->file_bytes(sha256)), "a picture") << "kept again, it is whole again";
}

}  // namespace

}  // namespace zoneproof::book
