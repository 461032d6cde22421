// Changes JSON as JSON (libFuzzer's custom mutator): bytes changed at random mostly break it, and
// what lies behind the parser is never reached.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <vector>

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace {

using Json = nlohmann::ordered_json;
using Random = std::minstd_rand;

void collect(Json& json, std::vector<Json*>& all) {
  all.push_back(&json);
  if (json.is_structured())
    for (Json& member : json) collect(member, all);
}

std::size_t any_below(std::size_t count, Random& random) {
  return count == 0 ? 0 : random() % count;
}

/// Numbers where things go wrong: none, ends of ranges, hardly any, far too many.
double awkward_number(Random& random) {
  constexpr double kNumbers[] = {0,    -0.0,  1,   -1,    2,     0.5,    1e-9, 1e-300, 5e-324, 12,
                                 12.1, 99,    100, 199,   200,   999,    1000, 1001,   1e6,    1e7,
                                 1e15, 1e300, 3.4, -1e-9, 1e308, -1e308, 0.1,  0.02,   90};
  return kNumbers[any_below(std::size(kNumbers), random)];
}

std::string awkward_text(const std::string& before, Random& random) {
  switch (random() % 8) {
    case 0:
      return {};
    case 1:
      return before + before;
    case 2:
      return std::string(any_below(700, random), 'W');
    case 3:
      return "<b>&\"'%n%s{}\\\x01\xC2\xB0\xE2\x80\xAE";
    case 4:
      return "2024-02-29";
    case 5:
      return "0000-01-01";
    case 6:
      return "9e9 N m, then 90 deg";
    default: {
      std::string text = before;
      text.resize(before.size() + 8);
      text.resize(LLVMFuzzerMutate(reinterpret_cast<std::uint8_t*>(text.data()), before.size(),
                                   text.size()));
      return text;
    }
  }
}

void change_value(Json& json, Random& random) {
  if (random() % 12 == 0) {
    const Json others[] = {nullptr, true, 7, 0.25, "text", Json::array(), Json::object()};
    json = others[any_below(std::size(others), random)];
  } else if (json.is_number_integer() && random() % 2 == 0) {
    json = static_cast<std::int64_t>(any_below(300, random)) - 20;
  } else if (json.is_number()) {
    json = random() % 2 ? awkward_number(random) : json.get<double>() * awkward_number(random);
  } else if (json.is_string()) {
    json = awkward_text(json.get<std::string>(), random);
  } else if (json.is_boolean()) {
    json = !json.get<bool>();
  } else if (json.is_array() && !json.empty()) {
    const std::size_t at = any_below(json.size(), random);
    if (random() % 2)
      json.push_back(json[at]);
    else
      json.erase(at);
  } else if (json.is_object() && !json.empty()) {
    auto member = json.begin();
    std::advance(member, any_below(json.size(), random));
    if (random() % 4 == 0) json.erase(member);
  }
}

}  // namespace

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned seed) {
  Random random(seed + 1);
  if (size == 0 || data[0] != '{' || random() % 10 == 0) return LLVMFuzzerMutate(data, size, most);
  Json json = Json::parse(data, data + size, nullptr, false);
  if (json.is_discarded()) return LLVMFuzzerMutate(data, size, most);
  for (std::size_t changes = 1 + random() % 3; changes > 0; --changes) {
    std::vector<Json*> all;
    collect(json, all);
    Json& one = *all[any_below(all.size(), random)];
    const Json& other = *all[any_below(all.size(), random)];
    if (random() % 6 == 0 && &one != &json) {
      Json copy = other;  // it may lie within the one
      one = std::move(copy);
    } else {
      change_value(one, random);
    }
  }
  const std::string text = json.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (text.size() > most) return size;
  std::memcpy(data, text.data(), text.size());
  return text.size();
}
