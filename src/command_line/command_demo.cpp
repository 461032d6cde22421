#include "command_line/commands.h"

namespace scantling {

void add_demo_command(CLI::App&, Work&) {}

}  // namespace scantling
