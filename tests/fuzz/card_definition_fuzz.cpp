// Feeds the card definitions' reader with changed files (libFuzzer):
//
//   ninja -C build/fuzz card_definition_fuzz
//   build/fuzz/tests/fuzz/card_definition_fuzz -max_len=60000 found
//   tests/fuzz/corpus/card_definition

#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <string_view>

#include "card/card_definition.h"
#include "card/card_pattern.h"
#include "fuzz/promise.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace scantling;
  using fuzz::require;
  CardDefinition card;
  try {
    card = parse_card_definition(std::string(reinterpret_cast<const char*>(data), size));
  } catch (const std::runtime_error& error) {
    require(std::string_view(error.what()).starts_with("Not a card definition: "), "the reason");
    return 0;
  }
  require(card.corners.size() == static_cast<std::size_t>((card.columns - 1) * (card.rows - 1)),
          "all corners");
  require(card.markers.size() == static_cast<std::size_t>(card.columns * card.rows / 2),
          "all markers");
  const CardPattern pattern(card);
  for (const CardCorner& corner : card.corners) pattern.around(corner.at, 0.1);
  return 0;
}
