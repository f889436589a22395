# What `cmake --install` puts where: command, manual pages, completion, libraries, headers, and the two
# descriptions by which others find them, a CMake package and a pkg-config file.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/gradin)

install(TARGETS gradin)
install(DIRECTORY ${gradin_page_dir}/man1 DESTINATION ${CMAKE_INSTALL_MANDIR})
install(FILES ${gradin_page_dir}/bash/gradin
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(FILES ${gradin_page_dir}/zsh/_gradin
  DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions)
install(TARGETS gradin_shared EXPORT gradinShared INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(TARGETS gradin_static EXPORT gradinStatic INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(DIRECTORY engine/include/gradin TYPE INCLUDE)

# Two export files: the static library alone asks its user for the libraries of others.
install(EXPORT gradinShared NAMESPACE gradin:: DESTINATION ${package_dir})
install(EXPORT gradinStatic NAMESPACE gradin:: DESTINATION ${package_dir})
configure_package_config_file(tools/dev/gradinConfig.cmake.in gradinConfig.cmake
  INSTALL_DESTINATION ${package_dir} NO_SET_AND_CHECK_MACRO)
write_basic_package_version_file(gradinConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/gradinConfig.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/gradinConfigVersion.cmake DESTINATION ${package_dir})

list(TRANSFORM gradin_modules REPLACE "^[A-Z]+ " "" OUTPUT_VARIABLE modules)
list(JOIN modules " " GRADIN_MODULES)
# From the folder of gradin.pc up to the prefix, so that an installed tree may be moved.
file(RELATIVE_PATH GRADIN_UP /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
configure_file(tools/dev/gradin.pc.in gradin.pc @ONLY)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/gradin.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
