#include "record/sha256.h"

#include <fmt/format.h>
#include <openssl/evp.h>

#include <array>

#include "record/record_error.h"

namespace scantling {

namespace {

void require(bool done) {
  if (!done)
    throw RecordError("The photo's fingerprint could not be computed: restart the program.");
}

}  // namespace

Sha256::Sha256() : context_(EVP_MD_CTX_new()) {
  require(context_ && EVP_DigestInit_ex(context_, EVP_sha256(), nullptr) == 1);
}

Sha256::~Sha256() {
  EVP_MD_CTX_free(context_);
}

void Sha256::add(const void* bytes, std::size_t count) {
  require(EVP_DigestUpdate(context_, bytes, count) == 1);
}

std::string Sha256::hexadecimal() {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned length = 0;
  require(EVP_DigestFinal_ex(context_, digest.data(), &length) == 1);
  std::string text;
  for (unsigned i = 0; i < length; ++i) text += fmt::format("{:02x}", digest[i]);
  return text;
}

}  // namespace scantling
