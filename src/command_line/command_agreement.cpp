#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "record/words.h"
#include "report/agreement_book.h"

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;

Json entry_json(const CameraSheetAgreement& entry) {
  const Agreement& a = entry.agreement;
  Json pairs = Json::array();
  for (std::size_t i = 0; i < entry.pairs.size(); ++i)
    pairs.push_back({{"part", entry.pairs[i].label},
                     {"photo_mm", entry.pairs[i].photo_mm},
                     {"hand_mm", entry.pairs[i].hand_mm},
                     {"difference_mm", a.pairs[i].difference_mm},
                     {"normalised_error", a.pairs[i].normalised_error},
                     {"disagrees", a.pairs[i].disagrees},
                     {"outlier", a.pairs[i].outlier}});
  return {{"camera", entry.camera},
          {"sheet", entry.sheet},
          {"kind", kind_word(entry.key.kind)},
          {"bias_mm", a.bias_mm},
          {"bias_standard_uncertainty_mm", a.bias_standard_uncertainty_mm},
          {"deviation_mm", a.deviation_mm},
          {"limits_of_agreement_mm", {a.limits.low, a.limits.high}},
          {"corrects", a.corrects},
          {"sentences", a.sentences},
          {"pairs", std::move(pairs)}};
}

int show_agreements(Record& record, bool json) {
  const AgreementBook book(record);
  if (json) {
    Json list = Json::array();
    for (const CameraSheetAgreement& entry : book.entries()) list.push_back(entry_json(entry));
    fmt::print("{}\n",
               Json{{"record", record.path().string()}, {"agreements", std::move(list)}}.dump(
                   1, ' ', false, Json::error_handler_t::replace));
    return kDone;
  }
  for (const CameraSheetAgreement& entry : book.entries()) {
    fmt::print("{}, {}, {}s\n", entry.camera, entry.sheet, kind_word(entry.key.kind));
    for (const std::string& sentence : entry.agreement.sentences) fmt::print("  {}\n", sentence);
    for (std::size_t i = 0; i < entry.pairs.size(); ++i)
      fmt::print(
          "    {:<48} photo {:>7.3f}  hand {:>7.3f}  apart {:+.3f}  "
          "normalised {:+.2f}\n",
          entry.pairs[i].label, entry.pairs[i].photo_mm, entry.pairs[i].hand_mm,
          entry.agreement.pairs[i].difference_mm, entry.agreement.pairs[i].normalised_error);
  }
  if (book.entries().empty())
    fmt::print(stderr,
               "scantling: No part has both a photo's size and a "
               "reading by hand yet.\n");
  return kDone;
}

}  // namespace

void add_agreement_command(CLI::App& app, Work& work) {
  CLI::App* command =
      app.add_subcommand("agreement",
                         "Sets photos against readings by hand, for each camera and "
                         "sheet: bias, limits, outliers.\n"
                         "Example: scantling agreement --json");
  const auto choice = add_record_option(app, *command);
  const auto json = std::make_shared<bool>(false);
  command->add_flag("--json", *json, "Print one JSON object");
  command->callback([=, &work] {
    work = [=] {
      return with_existing_record(*choice, *json,
                                  [&](Record& record) { return show_agreements(record, *json); });
    };
  });
}

}  // namespace scantling
