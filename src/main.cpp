#include "command_line/run_command_line.h"

int main(int argc, char** argv) { return scantling::run_command_line(argc, argv); }
