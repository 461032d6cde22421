# Use: cmake -C .cmake/fuzz.cmake -S . -B build/fuzz -G Ninja, then see tests/fuzz/photo_fuzz.cpp.
find_program(clangxx clang++-14)
find_file(libfuzzer libclang_rt.fuzzer-x86_64.a HINTS /usr/lib/llvm-14/lib/clang/14.0.6/lib/linux
  /usr/lib/clang/14/lib/linux NO_DEFAULT_PATH)
if(NOT clangxx OR NOT libfuzzer)
  message(FATAL_ERROR "Fuzzing needs clang 14 with its fuzzer library: .dev/install-packages packages-making.txt")
endif()
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(CMAKE_C_COMPILER clang-14 CACHE STRING "")
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(SCANTLING_FUZZ ON CACHE BOOL "")
