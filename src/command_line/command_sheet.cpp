#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <memory>

#include "base/save_file.h"
#include "card/draw_sheet.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"

namespace scantling {
namespace {

struct SheetOptions {
  std::string paper;
  std::string out;
};

std::string paper_problem(const std::string& word) {
  if (paper_named(word)) return {};
  return fmt::format("the paper is a4 or letter, not \"{}\".", word);
}

int write_to_standard_output(const std::string& pdf) {
  if (::isatty(STDOUT_FILENO)) {
    fmt::print(stderr,
               "scantling: A PDF would only garble the terminal. Send it on (| lp), or give a file "
               "name to --out.\n");
    return kWrongUsage;
  }
  if (std::fwrite(pdf.data(), 1, pdf.size(), stdout) != pdf.size() || std::fflush(stdout) != 0)
    throw UnwritableFile("Cannot write the PDF to standard output.");
  return kDone;
}

int write_sheet(const SheetOptions& options) {
  const Document sheet = draw_sheet(paper_named(options.paper).value());
  try {
    if (options.out == "-") return write_to_standard_output(sheet.pdf());
    sheet.save_pdf(options.out);
  } catch (const UnwritableFile& error) {
    fmt::print(stderr, "scantling: {}\n", error.what());
    return kWrongUsage;
  }
  fmt::print(stderr, "Wrote {}. Print both pages at 100 % and measure the check bars.\n",
             options.out);
  return kDone;
}

}  // namespace

void add_sheet_command(CLI::App& app, Work& work) {
  const auto options = std::make_shared<SheetOptions>();
  CLI::App* command = app.add_subcommand("sheet",
                                         "Write the printable cards as a PDF of two pages.\n"
                                         "Example: scantling sheet --paper a4 --out cards.pdf");
  command->add_option("--paper", options->paper, "The printer's paper: a4 or letter")
      ->required()
      ->type_name("a4|letter")
      ->check(paper_problem);
  command->add_option("--out", options->out, "The PDF to write; - for standard output")
      ->required()
      ->type_name("FILE.pdf");
  command->callback([options, &work] { work = [options] { return write_sheet(*options); }; });
}

}  // namespace scantling
