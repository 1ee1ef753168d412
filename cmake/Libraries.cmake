# The libraries of others that the modules use.
find_package(Python3 REQUIRED COMPONENTS Interpreter)

if(NOT EMSCRIPTEN)
  find_package(fmt REQUIRED)
  find_package(Eigen3 REQUIRED)
  find_package(nlohmann_json REQUIRED)
  find_package(CLI11 REQUIRED)
  find_package(TBB REQUIRED)
  return()
endif()

# For the browser the same Debian packages give the headers; what they hold beside headers is compiled for this machine and
# stays out: fmt is used as headers only, and one thread needs no TBB. /usr/include itself must not be searched, because it
# would hide the compiler's own C library: each library is reached through a folder that holds nothing but links to it.
set(headers "${CMAKE_BINARY_DIR}/headers")
file(MAKE_DIRECTORY "${headers}")
function(zoneproof_headers target folder witness)
  find_path(${folder}_PARENT "${folder}/${witness}" PATHS /usr/include REQUIRED NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH)
  file(CREATE_LINK "${${folder}_PARENT}/${folder}" "${headers}/${folder}" SYMBOLIC)
  if(NOT TARGET ${target})
    add_library(${target} INTERFACE IMPORTED GLOBAL)
    set_target_properties(${target} PROPERTIES INTERFACE_INCLUDE_DIRECTORIES "${headers}")
  endif()
endfunction()
zoneproof_headers(fmt::fmt fmt format.h)
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY)
zoneproof_headers(nlohmann_json::nlohmann_json nlohmann json.hpp)
zoneproof_headers(CLI11::CLI11 CLI CLI.hpp)
find_path(EIGEN3_INCLUDE_DIR Eigen/Dense PATHS /usr/include/eigen3 REQUIRED NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH)
add_library(TBB::tbb INTERFACE IMPORTED GLOBAL)
