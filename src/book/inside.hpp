#pragma once
#include <memory>
#include <mutex>
#include <vector>

#include "book/book.hpp"
#include "book/faults.hpp"
#include "book/schema.hpp"
#include "book/store.hpp"

/// What an open book is made of, for the files that define Book's functions only.
namespace zoneproof::book {

struct Book::Inside {
  Inside(std::unique_ptr<Store> opened, std::vector<Migration> known)
      : store(std::move(opened)), steps(std::move(known)) {}

  std::unique_ptr<Store> store;
  std::vector<Migration> steps;  ///< of the program that opened it
  std::vector<Message> notes;
  std::mutex turn;

  int schema() const { return steps.empty() ? 0 : steps.back().number; }

  /// Runs work that talks to the database, one thread at a time.
  template <class Answer, class Work>
  Answered<Answer> in_turn(Work work) {
    const std::lock_guard<std::mutex> hold(turn);
    return guarded<Answer>(store->address(), [&]() -> Answered<Answer> { return work(*store); });
  }

  /// Connects and brings the tables to `steps`; notes of it in `notes`.
  static Answered<std::unique_ptr<Inside>> open(const Address& address, Opening opening, std::vector<Migration> steps);
};

}  // namespace zoneproof::book
