# What src/paper needs beside drawing: libxlsxwriter and libqrcodegencpp, both found by pkg-config.
pkg_check_modules(XLSXWRITER REQUIRED IMPORTED_TARGET xlsxwriter)
pkg_check_modules(QRCODEGEN REQUIRED IMPORTED_TARGET qrcodegencpp)
target_link_libraries(zp_paper PRIVATE PkgConfig::XLSXWRITER PkgConfig::QRCODEGEN)
