# SPDX-License-Identifier: GPL-3.0-or-later
#
# The CMake package "stackfit" for programs that use the libraries, and packages for Debian: one
# of the program, one of the libraries.
include(CMakePackageConfigHelpers)
set(package_folder "${CMAKE_INSTALL_LIBDIR}/cmake/stackfit")
configure_package_config_file(
  "${CMAKE_CURRENT_LIST_DIR}/stackfitConfig.cmake.in"
  "${CMAKE_CURRENT_BINARY_DIR}/stackfitConfig.cmake"
  INSTALL_DESTINATION "${package_folder}")
# Before 1.0 a new minor version may change what the headers say.
write_basic_package_version_file("${CMAKE_CURRENT_BINARY_DIR}/stackfitConfigVersion.cmake"
  COMPATIBILITY SameMinorVersion)
install(EXPORT stackfitTargets
  NAMESPACE stackfit:: DESTINATION "${package_folder}" COMPONENT development)
install(FILES
  "${CMAKE_CURRENT_BINARY_DIR}/stackfitConfig.cmake"
  "${CMAKE_CURRENT_BINARY_DIR}/stackfitConfigVersion.cmake"
  DESTINATION "${package_folder}" COMPONENT development)

# Where Debian wants them: zsh looks there, and the licence has a name of its own.
install(DIRECTORY "${manual}/zsh/"
  DESTINATION "${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions" COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES "${PROJECT_SOURCE_DIR}/LICENSE" RENAME copyright
  DESTINATION "${CMAKE_INSTALL_DOCDIR}" COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES "${PROJECT_SOURCE_DIR}/LICENSE" RENAME copyright
  DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/libstackfit-dev" COMPONENT debian_development
  EXCLUDE_FROM_ALL)

# The README's first paragraph.
file(READ "${PROJECT_SOURCE_DIR}/README.md" readme)
string(REGEX MATCH "^# stackfit\n\n(([^\n]+\n)+)" found "${readme}")
if(NOT found)
  message(FATAL_ERROR "README.md does not begin with its name and a paragraph: "
    "the package's description is taken from there")
endif()
set(CPACK_PACKAGE_DESCRIPTION "${CMAKE_MATCH_1}")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "compression and fit of prismatic battery cells in a box")

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME stackfit)
set(CPACK_PACKAGE_VENDOR "stackfit authors")
set(CPACK_PACKAGE_CONTACT "stackfit authors <stackfit@example.org>")
set(CPACK_RESOURCE_FILE_LICENSE "${PROJECT_SOURCE_DIR}/LICENSE")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program debian development debian_development)

set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_MAINTAINER "${CPACK_PACKAGE_CONTACT}")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME stackfit)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "${CPACK_PACKAGE_DESCRIPTION}")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_LIBRARIES_PACKAGE_NAME libstackfit-dev)
set(CPACK_DEBIAN_LIBRARIES_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARIES_PACKAGE_DEPENDS "libgmp-dev, libmpfr-dev")
set(CPACK_DEBIAN_LIBRARIES_DESCRIPTION
  "The solver and the geometry of stackfit, to be used by programs of your own.")

include(CPack)
cpack_add_component_group(program)
cpack_add_component_group(libraries)
cpack_add_component(program GROUP program)
cpack_add_component(debian GROUP program)
cpack_add_component(development GROUP libraries)
cpack_add_component(debian_development GROUP libraries)
