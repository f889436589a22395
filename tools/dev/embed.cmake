# gradin_embed(OUT FILE...): writes a C file with each file's bytes as an array report_NAME_EXT, ended by a
# NUL byte; made anew when a file changes.
function(gradin_embed out)
  set(text "#include \"table/report/html.h\"\n")
  foreach(path ${ARGN})
    file(READ ${path} bytes HEX)
    string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
    get_filename_component(name ${path} NAME)
    string(MAKE_C_IDENTIFIER "report_${name}" name)
    string(APPEND text "const unsigned char ${name}[] = {${bytes}0x00};\n")
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${path})
  endforeach()
  file(CONFIGURE OUTPUT ${out} CONTENT "${text}" @ONLY)
endfunction()
