# Use: cmake -C .cmake/asan.cmake -S . -B build/asan
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(SCANTLING_SANITIZE ON CACHE BOOL "")
