#include "command_line/commands.h"

namespace scantling {

void add_sheet_command(CLI::App&, Work&) {}

}  // namespace scantling
