# `cmake --install build` and, by CPack, a Debian package: .dev/package
include(GNUInstallDirs)
install(TARGETS scantling RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(DIRECTORY assets/demo assets/sheets DESTINATION ${CMAKE_INSTALL_DATADIR}/scantling
  PATTERN scenes EXCLUDE)
install(FILES assets/desktop/scantling.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
install(FILES assets/desktop/scantling.svg
  DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps)
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME scantling)
set(CPACK_PACKAGE_CONTACT "The Scantling developers <scantling@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "Measure brake discs and pads from photographs")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-inter, fonts-dejavu-core, libgl1-mesa-dri")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "zenity")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
  "Finds a printed card and the part's edges in photographs, gives thickness and\nlip height in millimetres with their uncertainty, sets them against the\nminimum, and keeps a record of the job.")
include(CPack)
