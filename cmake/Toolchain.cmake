# One place for what every translation unit is compiled with.
# -ffp-contract=off keeps native and WebAssembly results equal (docs/decisions).
add_library(zoneproof_flags INTERFACE)
target_compile_options(zoneproof_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror -ffp-contract=off)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  # g++ 12 sees overlapping copies in any `"x" + std::string` at -O2 (GCC bug 105651); the warning says nothing true here.
  target_compile_options(zoneproof_flags INTERFACE -Wno-restrict)
endif()
if(ZONEPROOF_SANITIZE)
  target_compile_options(zoneproof_flags INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
  target_link_options(zoneproof_flags INTERFACE -fsanitize=address,undefined)
endif()
find_program(ZONEPROOF_CCACHE ccache)
if(ZONEPROOF_CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER "${ZONEPROOF_CCACHE}")
endif()
find_package(Python3 REQUIRED COMPONENTS Interpreter)
find_package(fmt REQUIRED)
find_package(Eigen3 REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(TBB REQUIRED)
