# The engine as a page loads it: build/webassembly/engine/ holds engine.mjs (what one imports), zoneproof_engine.mjs and
# zoneproof_engine.wasm, and nothing else is needed. -s ENVIRONMENT leaves Node's own loader out: what runs in Node hands
# the compiled engine over as bytes, as the tests do.
set(exported open apply ask site close space free)
list(TRANSFORM exported PREPEND "_zoneproof_")
list(JOIN exported "," exported)

zoneproof_program(zoneproof_engine src/browser/exports.cpp DEPENDS browser)
set(ZONEPROOF_ENGINE "${CMAKE_BINARY_DIR}/engine")
set_target_properties(zoneproof_engine PROPERTIES SUFFIX .mjs RUNTIME_OUTPUT_DIRECTORY "${ZONEPROOF_ENGINE}")
target_link_options(zoneproof_engine PRIVATE --no-entry "SHELL:-s MODULARIZE=1" "SHELL:-s EXPORT_ES6=1"
  "SHELL:-s ENVIRONMENT=web,worker" "SHELL:-s FILESYSTEM=0" "SHELL:-s EXPORTED_FUNCTIONS=${exported}")
add_custom_command(TARGET zoneproof_engine POST_BUILD COMMAND "${CMAKE_COMMAND}" -E copy_if_different
  "${CMAKE_SOURCE_DIR}/src/browser/engine.mjs" "${ZONEPROOF_ENGINE}/engine.mjs" VERBATIM)
set_target_properties(zoneproof_engine PROPERTIES LINK_DEPENDS "${CMAKE_SOURCE_DIR}/src/browser/engine.mjs")
