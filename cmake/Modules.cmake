# A module is a folder of src/: a static library, and a line in the list that the dependency check reads.
# Sources are found by pattern: a new file needs no second mention (docs/decisions/002-build.md).
set(ZONEPROOF_DEPENDENCIES "" CACHE INTERNAL "module:dep,dep;... in the order of the house")

function(zoneproof_module name)
  cmake_parse_arguments(MODULE "" "" "DEPENDS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/src/${name}/*.cpp")
  list(FILTER sources EXCLUDE REGEX "/main\\.cpp$")
  if(NOT sources)
    return()
  endif()
  add_library(zp_${name} STATIC ${sources})
  target_include_directories(zp_${name} PUBLIC "${CMAKE_SOURCE_DIR}/src" "${ZONEPROOF_GENERATED}")
  target_link_libraries(zp_${name} PUBLIC zoneproof_flags fmt::fmt)
  target_include_directories(zp_${name} SYSTEM PRIVATE "${EIGEN3_INCLUDE_DIR}")
  target_link_libraries(zp_${name} PRIVATE nlohmann_json::nlohmann_json)
  foreach(dependency IN LISTS MODULE_DEPENDS)
    if(TARGET zp_${dependency})
      target_link_libraries(zp_${name} PUBLIC zp_${dependency})
    endif()
  endforeach()
  add_dependencies(zp_${name} zoneproof_messages zoneproof_house)
  if(ZONEPROOF_TIDY)
    set_target_properties(zp_${name} PROPERTIES CXX_CLANG_TIDY "${ZONEPROOF_CLANG_TIDY};--quiet")
  endif()
  string(REPLACE ";" "," joined "${MODULE_DEPENDS}")
  set(ZONEPROOF_DEPENDENCIES "${ZONEPROOF_DEPENDENCIES};${name}:${joined}" CACHE INTERNAL "")
endfunction()

# A source that draws or serves has a twin, NAME_none.cpp, for the machine of a browser, where no letters can be set and
# nobody is served.
function(zoneproof_without_drawings target)
  get_target_property(sources ${target} SOURCES)
  if(EMSCRIPTEN)
    list(FILTER sources EXCLUDE REGEX "_(drawings|server)\\.cpp$")
  else()
    list(FILTER sources EXCLUDE REGEX "_(drawings|server)_none\\.cpp$")
  endif()
  set_target_properties(${target} PROPERTIES SOURCES "${sources}")
endfunction()

# The same for what needs the book: sources whose names begin with "book" have one twin, book_none.cpp.
function(zoneproof_without_book target)
  get_target_property(sources ${target} SOURCES)
  if(EMSCRIPTEN)
    list(FILTER sources EXCLUDE REGEX "/book(_(asked|history|files))?\\.cpp$")
  else()
    list(FILTER sources EXCLUDE REGEX "/book_none\\.cpp$")
  endif()
  set_target_properties(${target} PROPERTIES SOURCES "${sources}")
endfunction()

function(zoneproof_program name main)
  cmake_parse_arguments(PROGRAM "" "" "DEPENDS" ${ARGN})
  if(NOT EXISTS "${CMAKE_SOURCE_DIR}/${main}")
    return()
  endif()
  add_executable(${name} "${main}")
  foreach(dependency IN LISTS PROGRAM_DEPENDS)
    target_link_libraries(${name} PRIVATE zp_${dependency})
  endforeach()
endfunction()

# Where nothing remembers what was compiled before, what all tests include is compiled once for all: it is a third of their
# time. With a compiler cache it is not: a change would then miss everywhere, and a test that forgets an include is found there.
function(zoneproof_precompiled_tests target)
  if(NOT ZONEPROOF_PRECOMPILED)
    return()
  endif()
  if(TARGET base_tests AND NOT target STREQUAL base_tests)
    target_precompile_headers(${target} REUSE_FROM base_tests)
  else()
    target_precompile_headers(${target} PRIVATE <algorithm> <cmath> <functional> <map> <memory> <optional> <set> <string>
      <variant> <vector> <fmt/format.h> <gmock/gmock.h> <gtest/gtest.h> <nlohmann/json.hpp>)
  endif()
endfunction()

# The tests of one folder: tests/<folder>/*_test.cpp become one program.
function(zoneproof_tests folder)
  cmake_parse_arguments(TESTS "" "" "DEPENDS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/tests/${folder}/*.cpp")
  if(NOT sources)
    return()
  endif()
  add_executable(${folder}_tests ${sources})
  foreach(dependency IN LISTS TESTS_DEPENDS)
    if(TARGET zp_${dependency})
      target_link_libraries(${folder}_tests PRIVATE zp_${dependency})
    endif()
  endforeach()
  target_include_directories(${folder}_tests PRIVATE "${CMAKE_SOURCE_DIR}/tests")
  target_include_directories(${folder}_tests SYSTEM PRIVATE "${EIGEN3_INCLUDE_DIR}")
  target_link_libraries(${folder}_tests PRIVATE nlohmann_json::nlohmann_json GTest::gtest_main GTest::gmock rapidcheck)
  target_compile_definitions(${folder}_tests PRIVATE
    ZONEPROOF_SOURCE_DIR="${CMAKE_SOURCE_DIR}" ZONEPROOF_BINARY_DIR="${CMAKE_BINARY_DIR}")
  # Tests are compiled often and run once: what they test is optimised, they themselves are not.
  target_compile_options(${folder}_tests PRIVATE -O0)
  zoneproof_precompiled_tests(${folder}_tests)
  gtest_discover_tests(${folder}_tests NO_PRETTY_VALUES DISCOVERY_TIMEOUT 60 PROPERTIES TIMEOUT 600)
endfunction()

# Held against the code at every build, before anything is compiled.
add_custom_target(zoneproof_house
  COMMAND Python3::Interpreter "${CMAKE_SOURCE_DIR}/tools/dependencies.py" check "${CMAKE_SOURCE_DIR}"
  COMMENT "Checking the direction of dependencies" VERBATIM)
