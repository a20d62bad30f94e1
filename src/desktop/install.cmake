# What a desktop and a shell find of the programs, and the package.
install(FILES desktop/eyebrow.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications COMPONENT runtime)
install(FILES desktop/eyebrow.svg DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps COMPONENT runtime)
install(FILES desktop/eyebrow.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/mime/packages COMPONENT runtime)
install(FILES desktop/eyebrow.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT runtime)
install(FILES desktop/eyebrow.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME eyebrow
        COMPONENT runtime)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/models/ DESTINATION ${CMAKE_INSTALL_DATADIR}/eyebrow/models COMPONENT runtime
        FILES_MATCHING PATTERN "*.toml" PATTERN "pictures" EXCLUDE)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/eyebrow RENAME copyright
        COMPONENT runtime)

# `cpack -G DEB` in the build folder: the programs alone; the library is for those who build.
set(CPACK_PACKAGE_NAME eyebrow)
set(CPACK_PACKAGE_CONTACT "the developers of Eyebrow <developers@eyebrow.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "3-D interference checker for pistons and valves")
set(CPACK_PACKAGE_DESCRIPTION "Tells for every valve how near it comes to the piston, to other valves and to the bore
at any crank angle, and whether that is what was asked for. An aid for planning: it does not replace the check on the
assembled engine.")
set(CPACK_COMPONENTS_ALL runtime)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_NAME eyebrow)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "fonts-dejavu-core, libqt5svg5, shared-mime-info")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
include(CPack)
