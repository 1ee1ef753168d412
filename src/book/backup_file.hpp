#pragma once
#include <string>
#include <vector>

#include "book/schema.hpp"
#include "book/store.hpp"

/// A whole book as one text file, the same for every database. Each line is a JSON object:
///   {"format": "zoneproof-book", "version": 1, "schema": 1}
///   {"table": "sites", "row": {"id": "kiln_yard", "revision": "7", ...}}     rows, in the order of references
///   {"file": "SHA-256", "base64": "..."}                                     files, in pieces that follow each other
///   {"lines": 1234, "sha256": "..."}                                         the last: lines above it, and their chain
/// The chain of no lines is the SHA-256 of nothing, that of n + 1 lines the SHA-256 of the hexadecimal chain of n, a
/// line feed and the line without its own. A file that was cut off or changed anywhere is thus known by its last line.
namespace zoneproof::book {

/// Writes a book of that schema; the caller holds the transaction. The file replaces nothing unless whole; only its
/// owner may read it. Files of the book that are lost or damaged are left out and are in the answer's problems.
Answered<Check> write_backup(Store& store, int schema, const std::string& path, const results::Progress& progress);

/// Fills an empty book, in a transaction of its own: all or nothing. The tables are made as the backup's schema has
/// them, filled, and brought to the last of `steps`. What was wrong already when the backup was made is in the answer's
/// problems.
Answered<Check> read_backup(Store& store, const std::vector<Migration>& steps, const std::string& path,
                            const results::Progress& progress);

}  // namespace zoneproof::book
