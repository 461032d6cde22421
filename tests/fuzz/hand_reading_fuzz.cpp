// Feeds what a user may type as a size (libFuzzer):
//
//   ninja -C build/fuzz hand_reading_fuzz
//   build/fuzz/tests/fuzz/hand_reading_fuzz -max_len=200 found tests/fuzz/corpus/hand_reading

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "fuzz/promise.h"
#include "verdict/hand_reading_text.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace scantling;
  using fuzz::require;
  const LengthText read = length_from_text({reinterpret_cast<const char*>(data), size});
  require(read.value_mm.has_value() == read.problem.empty(), "a size or a problem");
  if (read.value_mm)
    require(*read.value_mm >= 0 && *read.value_mm <= kThickestPart_mm, "a size of a part");
  else
    require(read.problem.ends_with('.') && read.problem.size() < 1000, "one sentence");
  return 0;
}
