#pragma once
#include <exception>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "book/book.hpp"

/// What can go wrong in a database, in words of ours.
namespace zoneproof::book {

/// Another program has been writing for longer than anybody should wait.
struct BookBusy : std::runtime_error {
  BookBusy() : std::runtime_error("the book is busy") {}
};

/// The database's server does not answer, or not us.
struct BookUnreachable : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Whether what is being handled is a row that contradicts others, and no trouble of the database.
bool is_contradiction();

/// What went wrong, as a message. To be called while an exception of the database is handled; what is none of the
/// database is thrown on.
Message database_fault(const Address& address);

template <class Answer>
Answered<Answer> refused(Message problem) {
  return {std::nullopt, {std::move(problem)}};
}
template <class Answer>
Answered<Answer> refused(std::vector<Message> problems) {
  return {std::nullopt, std::move(problems)};
}

/// Runs what talks to the database; its exceptions become problems.
template <class Answer, class Work>
Answered<Answer> guarded(const Address& address, Work work) {
  try {
    return work();
  } catch (const std::exception&) {
    return refused<Answer>(database_fault(address));
  }
}

}  // namespace zoneproof::book
