#pragma once
#include <gtest/gtest.h>

#include "book/sample.hpp"

namespace zoneproof::book {

/// A test that runs on each kind of database. Those on PostgreSQL exist only where there is a server for them:
/// tests/book/on_postgresql.py starts one and runs them.
class OnEachDatabase : public testing::TestWithParam<const char*> {
 protected:
  OnEachDatabase() {
    address_.folder = folder_.path() + "/book";
    if (!on_postgresql()) return;
    address_.postgresql = postgresql_of_tests();
    clear_postgresql();
  }

  bool on_postgresql() const { return std::string(GetParam()) == "postgresql"; }
  const std::string& folder() const { return folder_.path(); }
  const Address& address() const { return address_; }

  static std::vector<const char*> databases() {
    if (postgresql_of_tests().empty()) return {"sqlite"};
    return {"sqlite", "postgresql"};
  }
  static std::string name_of(const testing::TestParamInfo<const char*>& info) { return info.param; }

 private:
  Folder folder_;
  Address address_;
};

}  // namespace zoneproof::book

#define ON_EACH_DATABASE(name)                                                                     \
  class name : public OnEachDatabase {                                                             \
   public:                                                                                         \
    static std::vector<const char*> all() { return databases(); }                                  \
    static std::string called(const testing::TestParamInfo<const char*>& i) { return name_of(i); } \
  };                                                                                               \
  INSTANTIATE_TEST_SUITE_P(Book, name, testing::ValuesIn(name::all()), name::called)
