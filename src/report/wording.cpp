#include "report/wording.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdio>

#include "record/words.h"
#include "verdict/forecast.h"

namespace scantling {

namespace {

std::string with_blanks(std::string_view name) {
  std::string words(name);
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

int decimals_for(double expanded_95_mm) {
  return expanded_95_mm > 0 && expanded_95_mm < 0.01 ? 3 : 2;
}

std::string size_or(const std::optional<Dimension>& size, const char* otherwise) {
  return size ? size_with_95(size->quantity) : otherwise;
}

}  // namespace

std::string axle_title(Axle axle) {
  return std::string(axle_word(axle)) + " axle";
}

std::string part_title(const Part& part, Axle axle) {
  std::string title = axle == Axle::front ? "Front " : "Rear ";
  title += side_word(part.side);
  if (part.kind == PartKind::disc) return title + ", disc";
  return title + ", " + place_word(part.place) + " pad";
}

std::string photo_title(const PhotoEntry& photo, const std::vector<PhotoEntry>& of_the_part) {
  std::string title;
  switch (photo.view) {
    case View::pad:
      title = "Pad in the card's notch";
      break;
    case View::rim:
      title = "Rim in the card's notch";
      break;
    case View::lip:
      title = photo.face ? fmt::format("Lip of the {} face", face_word(*photo.face)) : "Lip";
      break;
    case View::faces:
      title = "Disc upright on the ground sheet";
      break;
    case View::pile:
      title = "Pad on the ground sheet";
      break;
  }
  std::size_t alike = 0, number = 0;
  for (const PhotoEntry& other : of_the_part) {
    if (other.view != photo.view || other.face != photo.face) continue;
    ++alike;
    if (other.id == photo.id) number = alike;
  }
  return alike > 1 && number > 0 ? fmt::format("{}, photo {} of {}", title, number, alike) : title;
}

std::string edge_title(std::string_view edge) {
  if (edge == "plate_outer") return "back of the plate";
  if (edge == "plate_friction") return "plate to friction material";
  if (edge == "friction_outer") return "friction face";
  if (edge == "face_a") return "rim, one face";
  if (edge == "face_b") return "rim, other face";
  if (edge == "wall_foot") return "foot of the lip";
  if (edge == "wall_top") return "top of the lip";
  return with_blanks(edge);
}

std::string dimension_title(std::string_view name) {
  if (name == "friction_thickness") return "friction material";
  if (name == "plate_thickness") return "backing plate";
  if (name == "overall_thickness") return "whole pad";
  if (name == "friction_taper") return "taper, end to end";
  if (name == "friction_taper_across") return "taper across, rim to hub";
  if (name == "rim_thickness") return "disc over the lips";
  if (name == "worn_thickness") return "worn disc, inside the lips";
  if (name == "lip_height") return "height of the lip";
  if (name == "lip_height_out") return "lip, outboard face";
  if (name == "lip_height_in") return "lip, inboard face";
  if (name == "wall_run") return "run of the lip's wall";
  return with_blanks(name);
}

std::string date_title(std::string_view iso_date) {
  static constexpr std::array kMonths = {"January",   "February", "March",    "April",
                                         "May",       "June",     "July",     "August",
                                         "September", "October",  "November", "December"};
  int year = 0, month = 0, day = 0;
  const std::string text(iso_date);
  if (std::sscanf(text.c_str(), "%d-%d-%d", &year, &month, &day) != 3 || month < 1 || month > 12)
    return text;
  return fmt::format("{} {} {}", day, kMonths[static_cast<std::size_t>(month - 1)], year);
}

std::string time_title(std::string_view iso_time) {
  const std::string text(iso_time);
  if (text.size() < 20 || text[10] != 'T' || text.back() != 'Z') return text;
  return date_title(text.substr(0, 10)) + ", " + text.substr(11, 5) + " UTC";
}

std::string in_groups(double number) {
  std::string digits = fmt::format("{:.0f}", number);
  for (int at = static_cast<int>(digits.size()) - 3; at > 0; at -= 3)
    digits.insert(static_cast<std::size_t>(at), "\u00A0");
  return digits;
}

std::string distance_title(double km) {
  return in_groups(km) + "\u00A0km";
}

std::string distance_with_miles(double km) {
  return fmt::format("{} ({}\u00A0miles)", distance_title(km), in_groups(km / kKilometresInMile));
}

std::string size_with_95(const Quantity& size) {
  const double expanded = size.expanded_95_mm();
  const int decimals = decimals_for(expanded);
  return fmt::format("{:.{}f}\u00A0±\u00A0{:.{}f}\u00A0mm", size.value_mm, decimals, expanded,
                     decimals);
}

std::string worn_words(const WornThickness& worn) {
  const auto mm = [](const Dimension& d) {
    return fmt::format("{:.2f}\u00A0mm", d.quantity.value_mm);
  };
  if (!worn.rim) return {};
  std::string words = "Over the lips " + mm(*worn.rim);
  if (worn.lip_out) words += ", less the outboard lip " + mm(*worn.lip_out);
  if (worn.lip_in)
    words +=
        (worn.lip_out ? " and the inboard lip " : ", less the inboard lip ") + mm(*worn.lip_in);
  if (worn.one_face_assumed) words += "; the other face's lip is taken to be like it";
  return words + ".";
}

std::vector<WornRow> worn_rows(const WornThickness& worn) {
  const char* other = worn.one_face_assumed ? "taken to be like the other" : "no photo that counts";
  return {{"over the lips, from the rim", size_or(worn.rim, "no photo that counts"), false},
          {"less the outboard lip", size_or(worn.lip_out, other), false},
          {"less the inboard lip", size_or(worn.lip_in, other), false},
          {"worn thickness, inside the lips", size_or(worn.worn, "unknown"), true}};
}

std::string minimum_number(double minimum_mm) {
  std::string text = fmt::format("{:.3f}", minimum_mm);
  while (text.back() == '0' && text[text.size() - 2] != '.') text.pop_back();
  return text + "\u00A0mm";
}

}  // namespace scantling
