#include "report/result_text.h"

#include <fmt/format.h>

#include <string_view>

#include "report/report_words.h"
#include "report/wear_plot.h"
#include "report/wording.h"

namespace scantling {

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
  // Blanks that hold a figure and its unit together mean nothing where it is pasted.
  constexpr std::string_view kFixedBlank = "\u00A0";
  for (std::size_t at; (at = text.find(kFixedBlank)) != std::string::npos;)
    text.replace(at, kFixedBlank.size(), " ");
  return text;
}

}  // namespace scantling
