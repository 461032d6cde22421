#include "app/work_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/words.h"
#include "record/record_error.h"
#include "report/wording.h"
#include "verdict/hand_reading_text.h"

namespace scantling {

namespace {

constexpr double kUsual95_mm = 0.2;  ///< of a new part's size, where nobody says better

bool blank(const std::string& text) {
  return text.find_first_not_of(' ') == std::string::npos;
}

std::string typed_km(const std::optional<double>& km, const FigureStyle& style) {
  return km ? distance_for_typing(*km, style.distance) : std::string();
}

std::string typed_mm(const std::optional<double>& mm, const FigureStyle& style) {
  return mm ? length_for_typing(*mm, style.length) : std::string();
}

/// What stops the reading of a form, as a sentence.
struct Refused {
  std::string sentence;
};

std::optional<double> kilometres(const std::string& text, const char* what,
                                 const FigureStyle& style) {
  if (blank(text)) return std::nullopt;
  const auto km = km_from_text(text, style.distance);
  if (!km)
    throw Refused{fmt::format("{} is a number of {}, such as 83210. It may stay empty.", what,
                              style.distance == DistanceUnit::mile ? "miles" : "kilometres")};
  return km;
}

std::optional<double> millimetres(const std::string& text, const std::string& what,
                                  const FigureStyle& style) {
  if (blank(text)) return std::nullopt;
  const LengthText length = length_from_text(length_as_typed(text, style.length));
  if (!length.value_mm) throw Refused{what + ": " + length.problem};
  return length.value_mm;
}

FittedPart read_part(const FittedForm& form, Axle axle, const FigureStyle& style) {
  FittedPart part;
  part.kind = form.slot.kind;
  part.side = form.slot.side;
  part.place = form.slot.place;
  Part named;
  named.kind = part.kind;
  named.side = part.side;
  named.place = part.place;
  const std::string title = part_title(named, axle);
  part.maker = form.maker;
  part.number = form.number;
  part.new_size_mm = millimetres(form.size, title + ", new size", style);
  part.minimum_mm = millimetres(form.minimum, title + ", minimum", style);
  if (const auto half = millimetres(form.give_95, title + ", give or take", style))
    part.standard_uncertainty_mm = *half / 2;
  return part;
}

Fastener read_fastener(const FastenerForm& form) {
  if (blank(form.name)) throw Refused{"Name the fasteners, such as calliper bracket bolts."};
  Fastener fastener;
  fastener.name = form.name;
  fastener.renewed = form.renewed;
  const auto count = number_from(form.count);
  if (!count || *count != std::floor(*count) || *count < 1 || *count > 100)
    throw Refused{fmt::format("How many {} are there? Write a number from 1 to 100.", form.name)};
  fastener.count = static_cast<int>(*count);
  if (!blank(form.figure)) {
    const TighteningText read = tightening_from_text(form.figure);
    if (!read.problem.empty()) throw Refused{fmt::format("{}: {}", form.name, read.problem)};
    fastener.tightening = read.tightening;
  }
  return fastener;
}

WorkDone read(const WorkForm& form) {
  WorkDone work;
  work.date = form.date;
  if (!is_iso_date(form.date))
    throw Refused{"The day of the work is written year-month-day, such as 2026-11-25."};
  work.odometer_km = kilometres(form.odometer, "The odometer reading", form.style);
  work.done_by = form.done_by;
  for (const FittedForm& part : form.parts)
    if (part.fitted) work.parts.push_back(read_part(part, form.axle, form.style));
  for (const FastenerForm& fastener : form.fasteners)
    work.fasteners.push_back(read_fastener(fastener));
  work.fluid_looked_at = form.fluid_looked_at;
  if (form.fluid_looked_at) work.fluid = form.fluid;
  work.slides_looked_at = form.slides_looked_at;
  if (form.slides_looked_at) work.slides = form.slides;
  work.bedding_in_km = kilometres(form.bedding_in, "The bedding-in distance", form.style);
  work.next_check_km =
      kilometres(form.next_check_km, "The next check's odometer reading", form.style);
  if (!blank(form.next_check_date)) work.next_check_date = form.next_check_date;
  work.note = form.note;
  require_sense(work);
  return work;
}

}  // namespace

WorkForm work_form(const JobSummary& job, const std::string& person, const FigureStyle& style,
                   double check_every_km) {
  WorkForm form;
  form.style = style;
  form.axle = job.job.axle;
  for (const Side side : {Side::left, Side::right}) {
    form.parts.push_back({.slot = PartSlot::disc(side)});
    form.parts.push_back({.slot = {side, PadPlace::outer, PartKind::pad}});
    form.parts.push_back({.slot = {side, PadPlace::inner, PartKind::pad}});
  }
  if (!job.work) {
    form.date = job.job.date;
    form.odometer = typed_km(job.job.odometer_km, style);
    form.done_by = person;
    std::optional<double> next_km = job.job.next_check_km;
    if (!next_km && job.job.next_check_date.empty() && job.job.odometer_km && check_every_km > 0)
      next_km = *job.job.odometer_km + check_every_km;
    form.next_check_km = typed_km(next_km, style);
    form.next_check_date = job.job.next_check_date;
    return form;
  }
  const WorkDone& work = *job.work;
  form.date = work.date;
  form.odometer = typed_km(work.odometer_km, style);
  form.done_by = work.done_by;
  for (const FittedPart& part : work.parts) {
    const PartSlot slot{part.side, part.place, part.kind};
    const auto row = std::find_if(form.parts.begin(), form.parts.end(),
                                  [&](const FittedForm& f) { return f.slot == slot; });
    if (row == form.parts.end()) continue;
    row->fitted = true;
    row->maker = part.maker;
    row->number = part.number;
    row->size = typed_mm(part.new_size_mm, style);
    if (2 * part.standard_uncertainty_mm != kUsual95_mm)
      row->give_95 = length_for_typing(2 * part.standard_uncertainty_mm, style.length);
    row->minimum = typed_mm(part.minimum_mm, style);
  }
  for (const Fastener& fastener : work.fasteners)
    form.fasteners.push_back({fastener.name, std::to_string(fastener.count), fastener.renewed,
                              fastener.tightening.as_typed});
  form.fluid_looked_at = work.fluid_looked_at;
  form.fluid = work.fluid;
  form.slides_looked_at = work.slides_looked_at;
  form.slides = work.slides;
  form.bedding_in = typed_km(work.bedding_in_km, style);
  form.next_check_km = typed_km(work.next_check_km, style);
  form.next_check_date = work.next_check_date;
  form.note = work.note;
  return form;
}

ReadWork read_work(const WorkForm& form) {
  try {
    return {read(form), {}};
  } catch (const Refused& refused) {
    return {std::nullopt, refused.sentence};
  } catch (const RecordError& error) {
    return {std::nullopt, error.what()};
  }
}

LengthHints length_hints(const FigureStyle& style, PartKind kind) {
  const bool inches = style.length == LengthUnit::inch, disc = kind == PartKind::disc;
  const std::string size = inches ? (disc ? "0.95" : "0.47") : (disc ? "24" : "12");
  return {in_style(size, style), in_style(inches ? "0.008" : "0.2", style)};
}

std::string tightening_note(const FastenerForm& fastener) {
  if (blank(fastener.figure)) return {};
  const TighteningText read = tightening_from_text(fastener.figure);
  return read.problem.empty() ? tightening_words(read.tightening) : read.problem;
}

}  // namespace scantling
