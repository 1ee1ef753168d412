# What src/book needs: SOCI with SQLite, and Zstandard. SOCI's PostgreSQL backend is not linked: it and libpq are loaded when
# a book is in PostgreSQL, so that every other command starts without them.
find_package(PkgConfig REQUIRED)
find_path(SOCI_INCLUDE soci/soci.h REQUIRED)
find_library(SOCI_CORE soci_core REQUIRED)
find_library(SOCI_SQLITE soci_sqlite3 REQUIRED)
pkg_check_modules(ZSTD REQUIRED IMPORTED_TARGET libzstd)
pkg_check_modules(SQLITE REQUIRED IMPORTED_TARGET sqlite3)
target_include_directories(zp_book SYSTEM PRIVATE "${SOCI_INCLUDE}")
target_link_libraries(zp_book PRIVATE "${SOCI_CORE}" "${SOCI_SQLITE}" PkgConfig::SQLITE PkgConfig::ZSTD)
