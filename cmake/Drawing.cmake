# What src/drawing needs beside fmt: Pango and Cairo, libpng, and the fonts. The fonts that Debian's packages bring are
# copied to the folder fonts beside the program, which reads them there and nowhere else (docs/decisions/014-drawings.md).
find_package(PkgConfig REQUIRED)
find_package(PNG REQUIRED)
pkg_check_modules(PANGO REQUIRED IMPORTED_TARGET pangocairo pangofc fontconfig)
target_link_libraries(zp_drawing PRIVATE PkgConfig::PANGO PNG::PNG)

set(fonts "${CMAKE_BINARY_DIR}/fonts")
foreach(name B612-Bold.otf B612-Regular.otf NotoSans-Bold.ttf NotoSans-Regular.ttf NotoSansArabic-Bold.ttf
    NotoSansArabic-Regular.ttf NotoSansHebrew-Bold.ttf NotoSansHebrew-Regular.ttf)
  find_file(font_${name} "${name}" PATHS /usr/share/fonts/opentype/b612 /usr/share/fonts/truetype/noto
    REQUIRED NO_DEFAULT_PATH)
  configure_file("${font_${name}}" "${fonts}/${name}" COPYONLY)
endforeach()
# Their licence asks to go with them.
configure_file(/usr/share/doc/fonts-b612/copyright "${fonts}/B612.copyright.txt" COPYONLY)
configure_file(/usr/share/doc/fonts-noto-core/copyright "${fonts}/NotoSans.copyright.txt" COPYONLY)
