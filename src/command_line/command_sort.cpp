#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "base/each_index.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/measure_options.h"
#include "command_line/sorting_table.h"
#include "sorting/photo_names.h"
#include "sorting/place_photos.h"

namespace scantling {
namespace {

struct SortWork {
  MeasureArguments arguments;
  std::vector<std::string> given;
  unsigned jobs = usable_cores();
  bool json = false;
};

int run_sort(const SortWork& work, const SightOptions& options) {
  const std::vector<std::filesystem::path> files =
      photos_meant({work.given.begin(), work.given.end()});
  if (files.empty()) {
    fmt::print(stderr,
               "scantling: no photos (JPEG, PNG, TIFF, HEIC) are in there: name the folder into "
               "which the phone's photos were copied, or the photos themselves.\n");
    return kInputUnusable;
  }
  const std::vector<PhotoSight> sights = sight_photos(files, options, work.jobs);
  const std::vector<PhotoProposal> proposals = propose_places(sights);
  if (work.json)
    fmt::print("{}\n", sorting_json(sights, proposals)
                           .dump(1, ' ', false, nlohmann::ordered_json::error_handler_t::replace));
  else
    fmt::print("{}", sorting_table(sights, proposals));
  std::fflush(stdout);
  bool any = false;
  for (const PhotoSight& sight : sights) {
    any = any || sight.view || sight.bare_sheet;
    for (const Check& check : sight.checks)
      fmt::print(stderr, "scantling: {}: {}: {}\n", sight.file.string(),
                 severity_word(check.severity), check.message);
  }
  return any ? kDone : kInputUnusable;
}

}  // namespace

void add_sort_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand("sort",
                                         "Looks at a heap of photos and proposes what each shows "
                                         "and to which part it belongs. Nothing "
                                         "is filed.\nExample: scantling sort ~/Pictures/brakes");
  const auto wish = std::make_shared<SortWork>();
  command
      ->add_option("--sheet-scale", wish->arguments.sheet_scale,
                   "Printed over nominal size of the cards in x and y, and its uncertainty")
      ->type_name("SX,SY[,U]");
  command->add_option("--camera", wish->arguments.camera, "The phone's camera profile")
      ->type_name("FILE");
  command->add_option("--jobs", wish->jobs, "How many photos are looked at at a time")
      ->type_name("N")
      ->check(CLI::Range(1u, 256u));
  command->add_flag("--json", wish->json, "Print one JSON object");
  command->add_option("PHOTO", wish->given, "Photos, or folders of them")
      ->type_name("FILE")
      ->required();
  command->callback([wish, &work] {
    SightOptions options;
    if (wish->arguments.sheet_scale)
      options.sheet_scale = sheet_scale_from("--sheet-scale", *wish->arguments.sheet_scale);
    options.cameras = camera_shelf_from(wish->arguments.camera);
    work = [wish, options] { return run_sort(*wish, options); };
  });
}

}  // namespace scantling
