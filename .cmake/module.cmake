# The warnings, sanitizers and include path that every target of ours shares.
function(scantling_target_options target)
  target_compile_options(${target} PRIVATE -Wall -Wextra -Wconversion -Wshadow
    $<$<BOOL:${SCANTLING_WERROR}>:-Werror>)
  if(SCANTLING_SANITIZE)
    target_compile_options(${target} PUBLIC -fsanitize=address,undefined -fno-omit-frame-pointer)
    target_link_options(${target} PUBLIC -fsanitize=address,undefined)
  endif()
  if(SCANTLING_FUZZ)
    target_compile_options(${target} PUBLIC -fsanitize=fuzzer-no-link,address,undefined
      -fno-omit-frame-pointer)
    target_link_options(${target} PUBLIC -fsanitize=address,undefined)
  endif()
endfunction()

# One folder of src = one static library that names what it links.
#   scantling_module(edges SOURCES a.cpp DEPENDS camera geometry LIBS opencv_core)
# DEPENDS are folders of ours, LIBS libraries whose types show in our headers,
# PRIVATE_LIBS libraries that stay inside the .cpp files.
function(scantling_module name)
  cmake_parse_arguments(ARG "" "" "SOURCES;DEPENDS;LIBS;PRIVATE_LIBS" ${ARGN})
  set(target scantling_${name})
  if(ARG_SOURCES)
    add_library(${target} STATIC ${ARG_SOURCES})
    set(scope PUBLIC)
    scantling_target_options(${target})
    target_link_libraries(${target} PRIVATE ${ARG_PRIVATE_LIBS})
  else()
    add_library(${target} INTERFACE)
    set(scope INTERFACE)
  endif()
  target_include_directories(${target} ${scope} ${PROJECT_SOURCE_DIR}/src)
  foreach(dependency IN LISTS ARG_DEPENDS)
    target_link_libraries(${target} ${scope} scantling_${dependency})
  endforeach()
  target_link_libraries(${target} ${scope} ${ARG_LIBS})
endfunction()

# A GoogleTest program whose cases CTest knows one by one. SERIAL: nothing else may run beside it.
#   scantling_test(edges LABEL unit SOURCES a_test.cpp DEPENDS edges)
function(scantling_test name)
  cmake_parse_arguments(ARG "SERIAL" "LABEL" "SOURCES;DEPENDS;LIBS;ENVIRONMENT" ${ARGN})
  set(target test_${name})
  add_executable(${target} ${ARG_SOURCES})
  scantling_target_options(${target})
  target_include_directories(${target} PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  foreach(dependency IN LISTS ARG_DEPENDS)
    target_link_libraries(${target} PRIVATE scantling_${dependency})
  endforeach()
  target_link_libraries(${target} PRIVATE ${ARG_LIBS} GTest::gmock GTest::gtest_main)
  target_compile_definitions(${target} PRIVATE
    SCANTLING_SOURCE_DIR="${PROJECT_SOURCE_DIR}"
    SCANTLING_EXECUTABLE="$<TARGET_FILE:scantling>")
  add_dependencies(${target} scantling)
  gtest_discover_tests(${target} TEST_PREFIX "${name}/" DISCOVERY_TIMEOUT 60
    PROPERTIES LABELS "${ARG_LABEL}" RUN_SERIAL ${ARG_SERIAL} TIMEOUT 300 ENVIRONMENT "${ARG_ENVIRONMENT}")
endfunction()
