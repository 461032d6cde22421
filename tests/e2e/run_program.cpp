#include "e2e/run_program.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <memory>
#include <stdexcept>

namespace scantling::test {

namespace {

using File = std::unique_ptr<FILE, int (*)(FILE*)>;

File temporary_file() {
  File file(std::tmpfile(), &std::fclose);
  if (!file) throw std::runtime_error("no temporary file");
  return file;
}

std::string text_of(FILE* file) {
  std::rewind(file);
  std::string text;
  std::array<char, 4096> buffer{};
  for (std::size_t n = 0; (n = std::fread(buffer.data(), 1, buffer.size(), file)) > 0;)
    text.append(buffer.data(), n);
  return text;
}

}  // namespace

ProgramResult run_scantling(const std::vector<std::string>& arguments) {
  const std::string program = SCANTLING_EXECUTABLE;
  std::vector<std::string> words{program};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);

  // Files, not pipes: no output is ever long enough to block.
  const File output = temporary_file();
  const File errors = temporary_file();
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, fileno(output.get()), STDOUT_FILENO);
  posix_spawn_file_actions_adddup2(&actions, fileno(errors.get()), STDERR_FILENO);
  pid_t child = 0;
  const int failed = posix_spawn(&child, program.c_str(), &actions, nullptr, argv.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  if (failed != 0) throw std::runtime_error("cannot start " + program);
  int status = 0;
  if (waitpid(child, &status, 0) != child) throw std::runtime_error("lost " + program);

  ProgramResult result;
  result.exit_status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  result.output = text_of(output.get());
  result.errors = text_of(errors.get());
  return result;
}

}  // namespace scantling::test
