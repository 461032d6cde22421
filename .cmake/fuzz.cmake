# Use: cmake -C .cmake/fuzz.cmake -S . -B build/fuzz -G Ninja, then see tests/fuzz/photo_fuzz.cpp.
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(CMAKE_C_COMPILER clang-14 CACHE STRING "")
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(SCANTLING_FUZZ ON CACHE BOOL "")
