#include "sorting/sorting_words.h"

#include <fmt/format.h>

#include <cctype>

#include "record/words.h"

namespace scantling {

std::string slot_words(const PartSlot& slot) {
  if (slot.kind == PartKind::disc) return fmt::format("{} disc", side_word(slot.side));
  return fmt::format("{} {} pad", side_word(slot.side), place_word(slot.place));
}

std::string place_words(const PhotoPlace& place) {
  if (place.goes == PhotoPlace::Goes::aside) return "Left out";
  if (place.goes == PhotoPlace::Goes::to_camera) return "Your phone's camera";
  std::string words = slot_words(place.slot);
  words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
  switch (place.kind.view) {
    case View::pad:
      return words;
    case View::rim:
      return words + ", rim";
    case View::lip:
      return fmt::format("{}, {} lip", words,
                         face_word(place.kind.face.value_or(DiscFace::outboard)));
    case View::faces:
    case View::pile:
      break;
  }
  return words + ", on the sheet";
}

const char* view_title(View view) {
  switch (view) {
    case View::pad:
      return "pad";
    case View::rim:
      return "rim";
    case View::lip:
      return "lip";
    case View::faces:
      return "disc on the sheet";
    case View::pile:
      break;
  }
  return "pad on the sheet";
}

}  // namespace scantling
