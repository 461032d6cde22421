#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace scantling {

/// Seconds since 1970 by the phone's own clock, from Exif's "YYYY:MM:DD HH:MM:SS"; nothing where
/// the text is no time. Only differences mean anything, as the clock's zone is not known.
std::optional<std::int64_t> taken_time_s(std::string_view exif_text);

/// How far apart, for a sentence: "at the same second", "40 s later", "6 min later", "2 h later".
std::string time_apart_words(std::int64_t seconds);

/// The time of day of Exif's text: "10:12:31"; empty where it is no time.
std::string clock_words(std::string_view exif_text);

}  // namespace scantling
