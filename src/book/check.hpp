#pragma once
#include "book/store.hpp"

namespace zoneproof::book {

enum class Depth {
  texts,    ///< every text and file against its SHA-256, every history without a gap
  patches,  ///< and every patch and undo against the texts that it joins
};

/// Looks through a book inside of the caller's transaction. What is wrong is in `problems`, all of it.
Check check_book(Store& store, Depth depth, const results::Progress& progress);

/// What the database itself finds wrong; empty where nothing is.
std::vector<Message> check_database(Store& store);

}  // namespace zoneproof::book
