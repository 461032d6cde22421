#pragma once

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <stdexcept>
#include <string>
#include <vector>

extern char** environ;

namespace scantling {

struct ProgramResult {
  int exit_status = -1;  ///< -1 when a signal ended it
  std::string output;
  std::string errors;
};

/// Runs a program without a shell and collects what it writes. `environment` adds NAME=VALUE.
inline ProgramResult run_program(std::vector<std::string> arguments,
                                 const std::vector<std::string>& environment = {}) {
  // Files rather than pipes: a program that fills one pipe cannot block on the other.
  std::FILE* output = std::tmpfile();
  std::FILE* errors = std::tmpfile();
  if (!output || !errors) throw std::runtime_error("no temporary file");
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, fileno(output), STDOUT_FILENO);
  posix_spawn_file_actions_adddup2(&actions, fileno(errors), STDERR_FILENO);

  std::vector<char*> argv;
  for (std::string& argument : arguments) argv.push_back(argument.data());
  argv.push_back(nullptr);
  std::vector<std::string> added = environment;
  std::vector<char*> envp;
  for (std::string& variable : added) envp.push_back(variable.data());
  for (char** variable = environ; *variable; ++variable) {
    bool replaced = false;
    for (const std::string& mine : environment)
      replaced |= std::strncmp(*variable, mine.c_str(), mine.find('=') + 1) == 0;
    if (!replaced) envp.push_back(*variable);
  }
  envp.push_back(nullptr);

  pid_t child = 0;
  const int failure = posix_spawnp(&child, argv[0], &actions, nullptr, argv.data(), envp.data());
  posix_spawn_file_actions_destroy(&actions);
  if (failure != 0) throw std::runtime_error("cannot start " + arguments[0]);
  int status = 0;
  while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  const auto text_of = [](std::FILE* file) {
    std::string text;
    std::rewind(file);
    char buffer[65536];
    for (std::size_t n; (n = std::fread(buffer, 1, sizeof buffer, file)) > 0;)
      text.append(buffer, n);
    std::fclose(file);
    return text;
  };
  ProgramResult result;
  result.exit_status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  result.output = text_of(output);
  result.errors = text_of(errors);
  return result;
}

}  // namespace scantling
