#pragma once

#include <string>

#include "record/record.h"

namespace scantling {

// The words that the database and the JSON output use.
const char* axle_word(Axle axle);        ///< "front", "rear"
const char* kind_word(PartKind kind);    ///< "pad", "disc"
const char* side_word(Side side);        ///< "left", "right"
const char* place_word(PadPlace place);  ///< "inner", "outer"
const char* face_word(DiscFace face);    ///< "outboard", "inboard"

std::string time_now_text();  ///< ISO 8601 date and time, UTC: "2026-11-25T09:30:00Z"

// Reading them. @throws RecordError naming the word when it is another.
Axle axle_from(const std::string& word);
PartKind kind_from(const std::string& word);
Side side_from(const std::string& word);
PadPlace place_from(const std::string& word);
DiscFace face_from(const std::string& word);
View view_from(const std::string& word);

}  // namespace scantling
