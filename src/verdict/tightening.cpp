#include "verdict/tightening.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

namespace scantling {

namespace {

constexpr double kLargestTorque_Nm = 1000;  // far above any wheel nut of a car
constexpr double kLargestAngle_deg = 720;

TighteningText refused(std::string sentence) {
  return {{}, std::move(sentence)};
}

struct UnitWord {
  std::string_view word;
  TighteningUnit unit;
};

// Blanks, points, dots and hyphens between the letters are taken out before comparing.
constexpr std::array<UnitWord, 13> kUnits{{{"nm", TighteningUnit::newton_metre},
                                           {"newtonmetres", TighteningUnit::newton_metre},
                                           {"newtonmetre", TighteningUnit::newton_metre},
                                           {"lbfft", TighteningUnit::pound_force_foot},
                                           {"lbft", TighteningUnit::pound_force_foot},
                                           {"ftlb", TighteningUnit::pound_force_foot},
                                           {"ftlbf", TighteningUnit::pound_force_foot},
                                           {"ftlbs", TighteningUnit::pound_force_foot},
                                           {"lbsft", TighteningUnit::pound_force_foot},
                                           {"deg", TighteningUnit::degree},
                                           {"degree", TighteningUnit::degree},
                                           {"degrees", TighteningUnit::degree},
                                           {"\xC2\xB0", TighteningUnit::degree}}};

/// Lower case without what people put between the letters of a unit; a middle dot (U+00B7) too.
std::string bare_unit(std::string_view text) {
  std::string bare;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '\xC2' && i + 1 < text.size() && text[i + 1] == '\xB7') {
      ++i;
      continue;
    }
    if (c == ' ' || c == '.' || c == '-' || c == '*' || c == '\t') continue;
    bare += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return bare;
}

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// "then" and "+" and ";" part stages; so does a comma that is followed by a blank.
std::vector<std::string> stages_of(std::string_view text) {
  std::vector<std::string> stages{""};
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool comma = text[i] == ',' && i + 1 < text.size() && text[i + 1] == ' ';
    if (text[i] == '+' || text[i] == ';' || comma)
      stages.emplace_back();
    else if (text.substr(i).starts_with("then")) {
      stages.emplace_back();
      i += 3;
    } else {
      stages.back() += text[i];
    }
  }
  std::erase_if(stages, [](const std::string& stage) { return trimmed(stage).empty(); });
  return stages;
}

}  // namespace

TighteningText tightening_from_text(std::string_view text) {
  TighteningText result;
  result.tightening.as_typed = std::string(trimmed(text));
  for (const std::string& stage_text : stages_of(text)) {
    std::string stage(trimmed(stage_text));
    const std::size_t end = std::min(stage.find_first_not_of("0123456789.,"), stage.size());
    std::string number = stage.substr(0, end);
    std::replace(number.begin(), number.end(), ',', '.');
    TighteningStage read;
    const auto parsed = std::from_chars(number.data(), number.data() + number.size(), read.value);
    if (number.empty() || parsed.ec != std::errc() || parsed.ptr != number.data() + number.size())
      return refused(fmt::format(
          "\"{}\" is no tightening stage: write it as 35 N m, 26 lbf ft or 90 deg.", stage));
    const std::string unit = bare_unit(std::string_view(stage).substr(end));
    const auto found = std::find_if(kUnits.begin(), kUnits.end(),
                                    [&](const UnitWord& word) { return word.word == unit; });
    if (found == kUnits.end())
      return refused(fmt::format(
          "\"{}\" needs its unit: N m, lbf ft or degrees, as the maker gives it.", stage));
    read.unit = found->unit;
    const bool angle = read.unit == TighteningUnit::degree;
    if (!(read.value > 0) ||
        (angle ? read.value > kLargestAngle_deg : newton_metres(read) > kLargestTorque_Nm))
      return refused(fmt::format("\"{}\" cannot be right: look the figure up again.", stage));
    if (angle && result.tightening.stages.empty())
      return refused("An angle comes after a torque: begin with the torque, such as 30 N m.");
    result.tightening.stages.push_back(read);
  }
  if (result.tightening.stages.empty())
    return refused("Write the maker's figure, such as 35 N m, then 90 deg.");
  return result;
}

double newton_metres(const TighteningStage& stage) {
  switch (stage.unit) {
    case TighteningUnit::newton_metre:
      return stage.value;
    case TighteningUnit::pound_force_foot:
      return stage.value * kNewtonMetresInPoundForceFoot;
    case TighteningUnit::degree:
      break;
  }
  return 0;
}

std::string tightening_words(const Tightening& tightening) {
  std::string words;
  for (std::size_t i = 0; i < tightening.stages.size(); ++i) {
    const TighteningStage& stage = tightening.stages[i];
    if (!words.empty()) words += "; ";
    if (tightening.stages.size() > 1) words += fmt::format("{}: ", i + 1);
    switch (stage.unit) {
      case TighteningUnit::newton_metre:
        words += fmt::format("{:g} N m ({:.1f} lbf ft)", stage.value,
                             stage.value / kNewtonMetresInPoundForceFoot);
        break;
      case TighteningUnit::pound_force_foot:
        words += fmt::format("{:g} lbf ft ({:.1f} N m)", stage.value, newton_metres(stage));
        break;
      case TighteningUnit::degree:
        words += fmt::format("{:g} degrees further", stage.value);
    }
  }
  return words;
}

}  // namespace scantling
