# One place for what every translation unit is compiled with.
# -ffp-contract=off keeps native and WebAssembly results equal (docs/decisions).
add_library(zoneproof_flags INTERFACE)
target_compile_options(zoneproof_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror -ffp-contract=off)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  # Two warnings of g++ 12 are false wherever they appear here: overlapping copies in `"x" + std::string` (GCC bug 105651)
  # and the value of an empty std::optional<double> (GCC bug 80635). clang-tidy and the sanitizers watch instead.
  target_compile_options(zoneproof_flags INTERFACE -Wno-restrict -Wno-maybe-uninitialized)
endif()
if(CMAKE_UNITY_BUILD AND CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  # Several sources in one: what a source keeps to itself looks to the compiler as if a header gave it away.
  target_compile_options(zoneproof_flags INTERFACE -Wno-subobject-linkage)
endif()
if(EMSCRIPTEN)
  # The processor's own exceptions (no JavaScript in between) and its vectors; every browser since 2023 has both.
  # Debian's compiler comes with libraries built before and never builds another: only what they offer is used.
  set(webassembly -fwasm-exceptions -msimd128)
  target_compile_options(zoneproof_flags INTERFACE ${webassembly})
  target_link_options(zoneproof_flags INTERFACE ${webassembly} "SHELL:-s ALLOW_MEMORY_GROWTH=1")
  # Its optimizer asks Node for acorn. A Node that is not Debian's does not look where Debian keeps it.
  set(CMAKE_CXX_LINKER_LAUNCHER "${CMAKE_COMMAND}" -E env NODE_PATH=/usr/share/nodejs)
endif()
if(ZONEPROOF_SANITIZE)
  target_compile_options(zoneproof_flags INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
  target_link_options(zoneproof_flags INTERFACE -fsanitize=address,undefined)
endif()
if(ZONEPROOF_TIDY)
  find_program(ZONEPROOF_CLANG_TIDY clang-tidy REQUIRED)
endif()
find_program(ZONEPROOF_CCACHE ccache)
if(ZONEPROOF_CCACHE AND NOT ZONEPROOF_TIDY)
  set(CMAKE_CXX_COMPILER_LAUNCHER "${ZONEPROOF_CCACHE}")
endif()
