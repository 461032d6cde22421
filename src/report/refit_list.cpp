#include "report/refit_list.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/version.h"
#include "report/page_flow.h"
#include "report/wording.h"

namespace scantling {

namespace {

std::string part_words(const FittedPart& fitted) {
  std::string text = fmt::format("{} {}", fitted.side == Side::left ? "left" : "right",
                                 fitted.kind == PartKind::disc     ? "disc"
                                 : fitted.place == PadPlace::inner ? "inner pad"
                                                                   : "outer pad");
  for (const std::string& more : {fitted.maker, fitted.number})
    if (!more.empty()) text += ", " + more;
  if (fitted.new_size_mm) text += fmt::format(", new {:.2f} mm", *fitted.new_size_mm);
  if (fitted.minimum_mm) text += ", minimum " + minimum_number(*fitted.minimum_mm);
  return text;
}

std::string list_of(const std::vector<FittedPart>& parts, PartKind kind) {
  std::string list;
  for (const FittedPart& part : parts)
    if (part.kind == kind) list += (list.empty() ? "" : "; ") + part_words(part);
  return list;
}

RefitStep fastener_step(const Fastener& fastener) {
  RefitStep step;
  const std::string figure = fastener.tightening.stages.empty()
                                 ? "tightening figure: ______ (look it up)"
                                 : tightening_words(fastener.tightening);
  step.text = fmt::format("{} ({}, {}): {}", fastener.name, fastener.count,
                          fastener.renewed ? "renewed" : "used again", figure);
  const bool angle =
      std::any_of(fastener.tightening.stages.begin(), fastener.tightening.stages.end(),
                  [](const TighteningStage& s) { return s.unit == TighteningUnit::degree; });
  if (angle && !fastener.renewed)
    step.cautions.push_back(
        "Fasteners tightened by an angle are often to be "
        "used once only: ask the maker's data "
        "before you use them again.");
  return step;
}

bool belongs_to_wheel(const Fastener& fastener) {
  return fastener.name.find("heel") != std::string::npos;
}

void add_fasteners(const std::vector<Fastener>& fasteners, bool wheel,
                   std::vector<RefitStep>& steps) {
  for (const Fastener& fastener : fasteners)
    if (belongs_to_wheel(fastener) == wheel) steps.push_back(fastener_step(fastener));
}

RefitStep slides_step(const WorkDone& work) {
  RefitStep step{work.slides_looked_at ? "Slides and guide pins: looked at. " + work.slides
                                       : "Clean the pads' slides, look at guide pins and boots; "
                                         "each pin must move by "
                                         "hand.",
                 {}};
  step.cautions.push_back("Grease on pins only where the maker says so, none near pads or discs.");
  return step;
}

RefitStep fluid_step(const WorkDone& work) {
  return {work.fluid_looked_at ? "Brake fluid: looked at. " + work.fluid
                               : "Look at the brake fluid's level; it rises "
                                 "when pistons are pushed back.",
          {"Brake fluid takes off paint and must not reach pads or discs."}};
}

std::string next_check_words(const WorkDone& work, const Job& job) {
  const std::optional<double> km = work.next_check_km ? work.next_check_km : job.next_check_km;
  const std::string& date =
      work.next_check_date.empty() ? job.next_check_date : work.next_check_date;
  std::string text;
  if (km) text = "at " + distance_with_miles(*km);
  if (!date.empty()) text += (text.empty() ? "on " : " or on ") + date_title(date);
  if (km && !date.empty()) text += ", whichever comes first";
  return text.empty() ? "at ______ km or on ______" : text;
}

}  // namespace

std::vector<RefitStep> refit_steps(const JobSummary& summary) {
  return refit_steps(summary.job, summary.work.value_or(WorkDone{}));
}

std::vector<RefitStep> refit_steps(const Job& job, const WorkDone& work) {
  std::vector<RefitStep> steps;
  steps.push_back({"The car stands on level ground, chocked, on stands.",
                   {"Never work under a car that only a jack holds."}});
  steps.push_back({"Wheel hub's face clean and flat; discs free of oil and packing grease.",
                   {"Dust of brakes may hold asbestos: wipe it wet, never blow or brush it "
                    "dry."}});
  const std::string discs = list_of(work.parts, PartKind::disc);
  const std::string pads = list_of(work.parts, PartKind::pad);
  if (!discs.empty()) steps.push_back({"Discs on: " + discs, {"Discs go on in pairs."}});
  steps.push_back(slides_step(work));
  steps.push_back({pads.empty() ? "Pads in, the wear indicator where it was." : "Pads in: " + pads,
                   {"Friction material faces the disc on both sides.",
                    "Do not let the calliper hang on its hose."}});
  steps.push_back({"Pistons pushed back slowly, the calliper on, the hose not twisted.",
                   {"Watch the fluid's level while you push."}});
  add_fasteners(work.fasteners, false, steps);
  if (work.fasteners.empty())
    steps.push_back({"Bracket and calliper bolts to the maker's figures: ______",
                     {"Torque by a torque wrench; many bracket bolts are renewed each "
                      "time."}});
  steps.push_back({"Wheel on, nuts or bolts crosswise, first by hand.", {}});
  add_fasteners(work.fasteners, true, steps);
  steps.push_back({"Car down; wheel nuts to their figure with the wheel on the ground.", {}});
  steps.push_back({"Pump the pedal until it is hard, before you move off.",
                   {"The first strokes do not brake: the pistons have to come out."}});
  steps.push_back(fluid_step(work));
  steps.push_back(
      {work.bedding_in_km ? fmt::format("Bed in over {}: moderate stops with cooling "
                                        "between.",
                                        distance_with_miles(*work.bedding_in_km))
                          : std::string("Bed in as the pad maker says: moderate "
                                        "stops with cooling between."),
       {"No full stops with the pedal held while hot.", "The pad maker's own sequence governs."}});
  steps.push_back({"After a short drive: wheel nuts once more, and a look for leaks.", {}});
  steps.push_back({"Next check " + next_check_words(work, job) + ".", {}});
  return steps;
}

Document make_refit_list(const JobSummary& summary, PageSize paper, const FigureStyle& style) {
  DocumentInfo info;
  info.title =
      fmt::format("Refit list, {}, {}", summary.vehicle.name, axle_title(summary.job.axle));
  info.author = summary.vehicle.owner;
  info.created = summary.job.date + "T00:00:00Z";
  Document document(info);
  PageFlow flow(document, paper, style);
  flow.new_page();
  flow.paragraph(info.title, kTitleText);
  flow.paragraph(
      fmt::format("{}, job {}. Tightening figures are the ones entered for this job; "
                  "check them against the maker's data.",
                  date_title(summary.job.date), summary.job.id));
  flow.rule(0.5);
  int number = 0;
  for (const RefitStep& step : refit_steps(summary)) {
    flow.need(14);
    const double top = flow.y();
    flow.page().box({flow.left(), top + 0.3, 4, 4}, {0.3, kInk, {}});
    flow.paragraph(fmt::format("{}. {}", ++number, step.text), {10, Weight::medium}, 7);
    for (const std::string& caution : step.cautions)
      flow.paragraph("Mind: " + caution, kSmallText, 7);
    flow.space(1.2);
  }
  flow.finish(fmt::format("Scantling {}   ·   job {}", kVersion, summary.job.id));
  return document;
}

}  // namespace scantling
