#include "record/words.h"

#include "record/record_error.h"
#include "record/rows.h"

namespace scantling {

namespace {

[[noreturn]] void unknown_word(const std::string& word) {
  throw RecordError("The record or file holds the word \"" + word +
                    "\", which this program does not know: install the newest one.");
}

}  // namespace

const char* axle_word(Axle axle) {
  return axle == Axle::front ? "front" : "rear";
}
const char* kind_word(PartKind kind) {
  return kind == PartKind::pad ? "pad" : "disc";
}
const char* side_word(Side side) {
  return side == Side::left ? "left" : "right";
}
const char* place_word(PadPlace place) {
  return place == PadPlace::inner ? "inner" : "outer";
}
const char* face_word(DiscFace face) {
  return face == DiscFace::outboard ? "outboard" : "inboard";
}

std::string time_now_text() {
  return time_of_change();
}

Axle axle_from(const std::string& word) {
  if (word == "front") return Axle::front;
  if (word == "rear") return Axle::rear;
  unknown_word(word);
}

PartKind kind_from(const std::string& word) {
  if (word == "pad") return PartKind::pad;
  if (word == "disc") return PartKind::disc;
  unknown_word(word);
}

Side side_from(const std::string& word) {
  if (word == "left") return Side::left;
  if (word == "right") return Side::right;
  unknown_word(word);
}

PadPlace place_from(const std::string& word) {
  if (word == "inner") return PadPlace::inner;
  if (word == "outer") return PadPlace::outer;
  unknown_word(word);
}

DiscFace face_from(const std::string& word) {
  if (word == "outboard") return DiscFace::outboard;
  if (word == "inboard") return DiscFace::inboard;
  unknown_word(word);
}

View view_from(const std::string& word) {
  if (const auto view = view_from_word(word)) return *view;
  unknown_word(word);
}

}  // namespace scantling
