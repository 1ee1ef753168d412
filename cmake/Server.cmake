# What src/server needs beside the modules: Boost.Beast (headers only), OpenSSL, libsodium, zlib, QR codes; and two sets of
# files that it hands out, put into the program as they are: the demo sites, and the page as npm builds it.
find_package(Boost 1.74 REQUIRED)
find_package(OpenSSL 3 REQUIRED)
find_package(ZLIB REQUIRED)
find_package(Threads REQUIRED)
pkg_check_modules(SODIUM REQUIRED IMPORTED_TARGET libsodium)
target_include_directories(zp_server SYSTEM PRIVATE "${Boost_INCLUDE_DIRS}")
target_link_libraries(zp_server PRIVATE OpenSSL::SSL OpenSSL::Crypto ZLIB::ZLIB Threads::Threads PkgConfig::SODIUM PkgConfig::QRCODEGEN)

enable_language(ASM)
# zoneproof_embedded(FUNCTION ROOT GLOBS... [DEPENDS ...]): the files below ROOT as the table FUNCTION() of the server.
function(zoneproof_embedded function root)
  cmake_parse_arguments(EMBEDDED "" "" "GLOBS;DEPENDS" ${ARGN})
  set(target "${ZONEPROOF_GENERATED}/${function}")
  add_custom_command(OUTPUT "${target}.cpp" "${target}.S"
    COMMAND Python3::Interpreter "${CMAKE_SOURCE_DIR}/tools/embed_binary.py" "${function}" "${target}.cpp" "${root}" ${EMBEDDED_GLOBS}
    DEPENDS "${CMAKE_SOURCE_DIR}/tools/embed_binary.py" ${EMBEDDED_DEPENDS}
    DEPFILE "${target}.d"
    COMMENT "Taking in ${function}" VERBATIM)
  # The assembler reads the files itself: when one changes, .S is written again and assembled.
  target_sources(zp_server PRIVATE "${target}.cpp" "${target}.S")
endfunction()

zoneproof_embedded(demos_in_program "${CMAKE_SOURCE_DIR}/data/demo" GLOBS "*.site.json")

# The page needs Node and npm at build time. Without them, or with ZONEPROOF_PAGE off, the program has none and says so.
option(ZONEPROOF_PAGE "Build the page (web/) with npm and put it into the program" ON)
set(page "${CMAKE_SOURCE_DIR}/web")
find_program(ZONEPROOF_NPM npm)
if(ZONEPROOF_PAGE AND ZONEPROOF_NPM AND EXISTS "${page}/package-lock.json")
  file(GLOB_RECURSE page_sources CONFIGURE_DEPENDS "${page}/src/*" "${page}/public/*")
  list(APPEND page_sources "${page}/index.html" "${page}/vite.config.ts" "${page}/tsconfig.json" "${page}/package.json" "${page}/package-lock.json")
  set(page_stamp "${CMAKE_BINARY_DIR}/page.stamp")
  # The engine for the page's own worker, where it was built (./test webassembly, cmake --preset webassembly); without it
  # the page asks the server alone.
  set(ZONEPROOF_ENGINE_FOLDER "${CMAKE_SOURCE_DIR}/build/webassembly/engine" CACHE PATH "Where the engine for browsers was built")
  set(with_engine "")
  if(EXISTS "${ZONEPROOF_ENGINE_FOLDER}/engine.mjs")
    set(with_engine COMMAND "${CMAKE_COMMAND}" -E copy_directory "${ZONEPROOF_ENGINE_FOLDER}" "${CMAKE_BINARY_DIR}/page/engine")
    file(GLOB engine_files CONFIGURE_DEPENDS "${ZONEPROOF_ENGINE_FOLDER}/*")
    list(APPEND page_sources ${engine_files})
  endif()
  set(modules_stamp "${CMAKE_BINARY_DIR}/page-modules.stamp")
  add_custom_command(OUTPUT "${modules_stamp}"
    COMMAND "${ZONEPROOF_NPM}" ci --no-audit --no-fund --loglevel=error
    COMMAND "${CMAKE_COMMAND}" -E touch "${modules_stamp}"
    DEPENDS "${page}/package-lock.json" WORKING_DIRECTORY "${page}" COMMENT "Fetching what the page is built with" VERBATIM)
  add_custom_command(OUTPUT "${page_stamp}"
    COMMAND "${ZONEPROOF_NPM}" run --silent build -- --outDir "${CMAKE_BINARY_DIR}/page" --emptyOutDir --logLevel warn
    ${with_engine}
    COMMAND "${CMAKE_COMMAND}" -E touch "${page_stamp}"
    DEPENDS "${modules_stamp}" ${page_sources} WORKING_DIRECTORY "${page}" COMMENT "Building the page" VERBATIM)
  zoneproof_embedded(page_in_program "${CMAKE_BINARY_DIR}/page" GLOBS "**/*" DEPENDS "${page_stamp}")
else()
  message(STATUS "The page is not put into the program: ${page}, Node with npm, and ZONEPROOF_PAGE are needed for it")
  zoneproof_embedded(page_in_program "${CMAKE_BINARY_DIR}/page" GLOBS "no-page")
endif()
