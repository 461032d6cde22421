#include "sorting/taken_time.h"

#include <fmt/format.h>

#include <chrono>
#include <cstdio>

namespace scantling {

std::optional<std::int64_t> taken_time_s(std::string_view exif_text) {
  using namespace std::chrono;
  int y = 0, mo = 0, d = 0, h = 0, mi = 0, s = 0;
  const std::string text(exif_text);
  if (std::sscanf(text.c_str(), "%4d:%2d:%2d %2d:%2d:%2d", &y, &mo, &d, &h, &mi, &s) != 6)
    return std::nullopt;
  const year_month_day date{year(y), month(static_cast<unsigned>(mo)),
                            day(static_cast<unsigned>(d))};
  // A camera whose clock was never set writes zeros.
  if (y < 1990 || !date.ok() || h < 0 || h > 23 || mi < 0 || mi > 59 || s < 0 || s > 60)
    return std::nullopt;
  const seconds time = sys_days(date).time_since_epoch() + hours(h) + minutes(mi) + seconds(s);
  return time.count();
}

std::string time_apart_words(std::int64_t seconds) {
  if (seconds <= 0) return "at the same second";
  if (seconds < 100) return fmt::format("{} s later", seconds);
  if (seconds < 100 * 60) return fmt::format("{} min later", (seconds + 30) / 60);
  if (seconds < 48 * 3600) return fmt::format("{} h later", (seconds + 1800) / 3600);
  return fmt::format("{} days later", (seconds + 43200) / 86400);
}

std::string clock_words(std::string_view exif_text) {
  return taken_time_s(exif_text) ? std::string(exif_text.substr(11, 8)) : std::string();
}

}  // namespace scantling
