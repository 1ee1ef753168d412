# Two generated things, both from data/:
#  - messages/<folder>.hpp and the tables of the catalogue and its translations, from data/messages/ (tools/messages.py)
#  - embedded_data.cpp: parts shelf, rulebooks and the like as bytes in the program (tools/embed.py), so that command and browser
#    read the same shelf without a file system
set(ZONEPROOF_GENERATED "${CMAKE_BINARY_DIR}/generated")
file(MAKE_DIRECTORY "${ZONEPROOF_GENERATED}/messages")

file(GLOB message_files CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/data/messages/*/*.json")
set(message_stamp "${ZONEPROOF_GENERATED}/messages/catalogue.inc")
set(message_headers "${ZONEPROOF_GENERATED}/messages/languages.inc" "${ZONEPROOF_GENERATED}/messages/translations.inc")
foreach(file IN LISTS message_files)
  get_filename_component(stem "${file}" NAME_WE)
  list(APPEND message_headers "${ZONEPROOF_GENERATED}/messages/${stem}.hpp")
endforeach()
list(REMOVE_DUPLICATES message_headers)
add_custom_command(
  OUTPUT "${message_stamp}"
  BYPRODUCTS ${message_headers}
  COMMAND Python3::Interpreter "${CMAKE_SOURCE_DIR}/tools/messages.py" "${CMAKE_SOURCE_DIR}/data/messages" "${ZONEPROOF_GENERATED}/messages"
  DEPENDS ${message_files} "${CMAKE_SOURCE_DIR}/tools/messages.py"
  COMMENT "Generating the message catalogue" VERBATIM)
add_custom_target(zoneproof_messages DEPENDS "${message_stamp}")

file(GLOB_RECURSE embedded_files CONFIGURE_DEPENDS
  "${CMAKE_SOURCE_DIR}/data/parts/*.json" "${CMAKE_SOURCE_DIR}/data/rulebooks/*.json"
  "${CMAKE_SOURCE_DIR}/data/costs/*.json" "${CMAKE_SOURCE_DIR}/data/labels/*.json"
  "${CMAKE_SOURCE_DIR}/data/book/*.sql")
set(embedded_source "${ZONEPROOF_GENERATED}/embedded_data.cpp")
add_custom_command(
  OUTPUT "${embedded_source}"
  COMMAND Python3::Interpreter "${CMAKE_SOURCE_DIR}/tools/embed.py" "${CMAKE_SOURCE_DIR}/data" "${embedded_source}" parts rulebooks costs labels book
  DEPENDS ${embedded_files} "${CMAKE_SOURCE_DIR}/tools/embed.py"
  COMMENT "Embedding the parts shelf, the rulebooks, the costs, the labels and the tables of the book" VERBATIM)
add_library(zp_embedded OBJECT "${embedded_source}")
target_include_directories(zp_embedded PRIVATE "${CMAKE_SOURCE_DIR}/src")
