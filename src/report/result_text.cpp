#include "report/result_text.h"

#include <fmt/format.h>

#include <string_view>

#include "report/report_words.h"
#include "report/wear_plot.h"
#include "report/wording.h"

namespace scantling {

namespace {

/// Blanks that hold a figure and its unit together mean nothing where the text is pasted.
std::string with_plain_blanks(std::string_view text) {
  constexpr std::string_view kFixedBlank = "\u00A0";
  std::string plain;
  for (std::size_t i = 0; i < text.size();) {
    const bool fixed = text.substr(i).starts_with(kFixedBlank);
    plain += fixed ? ' ' : text[i];
    i += fixed ? kFixedBlank.size() : 1;
  }
  return plain;
}

}  // namespace

std::string result_text(const JobSummary& job, const PartSummary& part) {
  std::string text = fmt::format("{}: {}\n", job.vehicle.name, part_title(part.part, job.job.axle));
  text += date_title(job.job.date);
  if (job.job.odometer_km) text += ", " + distance_title(*job.job.odometer_km);
  text += '\n';
  const auto line = [&](const std::string& words) {
    if (!words.empty()) text += words + '\n';
  };
  if (part.size)
    line(fmt::format("{}: {} (95 % interval)", dimension_title(part.size->dimension),
                     size_with_95(part.size->quantity)));
  line(readings_words(part.readings));
  if (part.part.minimum_mm) line(minimum_words(part.part));
  line(left_words(part));
  line(fmt::format("Result: {}", part.state));
  for (const std::string& sentence : part.because) line(sentence);
  for (const std::string& sentence : wear_sentences(part)) line(sentence);
  line(triage_words());
  return with_plain_blanks(text);
}

}  // namespace scantling
