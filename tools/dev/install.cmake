# What `cmake --install` puts where, by component:
#   command      the command, its manual pages and completion, the guide, the demo, the licence
#   library      the shared library
#   development  headers, the static library, a CMake package and a pkg-config file
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/gradin)

install(TARGETS gradin COMPONENT command)
install(DIRECTORY ${gradin_page_dir}/man1 DESTINATION ${CMAKE_INSTALL_MANDIR} COMPONENT command)
install(FILES ${gradin_page_dir}/bash/gradin
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT command)
install(FILES ${gradin_page_dir}/zsh/_gradin
  DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions COMPONENT command)
# The guide and the demo keep their places beside each other, so that links between them hold.
install(FILES README.md DEVELOPERS.md TYPE DOC COMPONENT command)
install(FILES LICENSE TYPE DOC RENAME copyright COMPONENT command)
install(FILES reference/keys.md reference/changelog.md DESTINATION ${CMAKE_INSTALL_DOCDIR}/reference COMPONENT command)
file(GLOB gradin_schemas CONFIGURE_DEPENDS reference/*-schema.json) # of what the command prints
install(FILES ${gradin_schemas} DESTINATION ${CMAKE_INSTALL_DOCDIR}/reference COMPONENT command)
install(DIRECTORY reference/guide reference/schemas DESTINATION ${CMAKE_INSTALL_DOCDIR}/reference
  COMPONENT command)
install(DIRECTORY demo DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT command PATTERN results EXCLUDE)
install(TARGETS gradin_shared EXPORT gradinShared LIBRARY COMPONENT library
  NAMELINK_COMPONENT development INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(TARGETS gradin_static EXPORT gradinStatic COMPONENT development
  INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(DIRECTORY engine/include/gradin TYPE INCLUDE COMPONENT development)

# Two export files: the static library alone asks its user for the libraries of others.
install(EXPORT gradinShared NAMESPACE gradin:: DESTINATION ${package_dir} COMPONENT development)
install(EXPORT gradinStatic NAMESPACE gradin:: DESTINATION ${package_dir} COMPONENT development)
configure_package_config_file(tools/dev/gradinConfig.cmake.in gradinConfig.cmake
  INSTALL_DESTINATION ${package_dir} NO_SET_AND_CHECK_MACRO)
write_basic_package_version_file(gradinConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/gradinConfig.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/gradinConfigVersion.cmake DESTINATION ${package_dir}
  COMPONENT development)

list(TRANSFORM gradin_modules REPLACE "^[A-Z]+ " "" OUTPUT_VARIABLE modules)
list(JOIN modules " " GRADIN_MODULES)
# From the folder of gradin.pc up to the prefix, so that an installed tree may be moved.
file(RELATIVE_PATH GRADIN_UP /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
configure_file(tools/dev/gradin.pc.in gradin.pc @ONLY)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/gradin.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig
  COMPONENT development)

# Debian packages by `cpack` in the build folder.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_VENDOR "the gradin authors")
set(CPACK_PACKAGE_CONTACT "the gradin authors <gradin@example.org>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "sightlines and outside noise of halls that can be rebuilt")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL command library development)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_ENABLE_COMPONENT_DEPENDS OFF)
set(CPACK_DEBIAN_COMMAND_PACKAGE_NAME gradin)
set(CPACK_DEBIAN_COMMAND_PACKAGE_SECTION science)
set(CPACK_DEBIAN_COMMAND_PACKAGE_DEPENDS fonts-dejavu-core)
set(library_package libgradin${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR})
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME ${library_package})
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libs)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS fonts-dejavu-core)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libgradin-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
# pkg-config asks for every module that gradin.pc requires, those of the static library too.
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "${library_package} (= ${PROJECT_VERSION}), libyaml-dev, \
libassimp-dev, libpng-dev, libcairo2-dev, libfontconfig-dev, libopenblas-dev, liblapacke-dev, \
libjansson-dev, libxxhash-dev, libkissfft-dev, libnlopt-dev")
set(CPACK_COMPONENT_COMMAND_DESCRIPTION "The gradin command with its manual, guide and demo.")
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION "The shared library.")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION "Headers, the static library, CMake and pkg-config files.")
include(CPack)
