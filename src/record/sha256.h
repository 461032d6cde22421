#pragma once

#include <cstddef>
#include <string>

struct evp_md_ctx_st;

namespace scantling {

/// SHA-256 (FIPS 180-4) of bytes that come in pieces.
class Sha256 {
 public:
  Sha256();
  ~Sha256();
  Sha256(const Sha256&) = delete;
  Sha256& operator=(const Sha256&) = delete;
  void add(const void* bytes, std::size_t count);
  std::string hexadecimal();  ///< lower case, 64 characters; call once, at the end

 private:
  evp_md_ctx_st* context_;
};

}  // namespace scantling
