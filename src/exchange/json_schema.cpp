#include "exchange/json_schema.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <stdexcept>

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;
using Fault = std::optional<std::string>;

constexpr int kDeepest = 40;

class Checker {
 public:
  explicit Checker(const Json& root) : root_(root) {}

  Fault fault(const Json& value, const Json& schema, const std::string& at, int depth) const {
    if (depth > kDeepest) return fmt::format("{} is nested too deeply.", at);
    require_known(schema);
    if (const auto ref = schema.find("$ref"); ref != schema.end())
      return fault(value, resolved(ref->get<std::string>()), at, depth + 1);
    if (const auto any = schema.find("anyOf"); any != schema.end()) {
      Fault last;
      for (const Json& one : *any)
        if (!(last = fault(value, one, at, depth + 1))) return std::nullopt;
      return last;
    }
    if (const auto type = schema.find("type"); type != schema.end() && !has_type(value, *type))
      return fmt::format("{} must be {}.", at, type->dump());
    if (const auto only = schema.find("const"); only != schema.end() && value != *only)
      return fmt::format("{} must be {}.", at, only->dump());
    if (const auto list = schema.find("enum"); list != schema.end())
      if (std::find(list->begin(), list->end(), value) == list->end())
        return fmt::format("{} must be one of {}.", at, list->dump());
    if (value.is_object()) return object_fault(value, schema, at, depth);
    if (value.is_array()) return array_fault(value, schema, at, depth);
    if (value.is_string()) return text_fault(value, schema, at);
    if (value.is_number()) return number_fault(value, schema, at);
    return std::nullopt;
  }

 private:
  static void require_known(const Json& schema) {
    static const std::set<std::string> kKnown{"$schema",     "$id",
                                              "$defs",       "$ref",
                                              "title",       "type",
                                              "const",       "enum",
                                              "required",    "properties",
                                              "items",       "minItems",
                                              "maxItems",    "minLength",
                                              "maxLength",   "pattern",
                                              "minimum",     "maximum",
                                              "anyOf",       "additionalProperties",
                                              "description", "exclusiveMinimum"};
    for (const auto& [keyword, ignored] : schema.items())
      if (!kKnown.count(keyword)) throw std::logic_error("unknown schema keyword " + keyword);
  }

  const Json& resolved(const std::string& reference) const {
    constexpr std::string_view kPrefix = "#/$defs/";
    if (!reference.starts_with(kPrefix)) throw std::logic_error("unknown $ref " + reference);
    return root_.at("$defs").at(reference.substr(kPrefix.size()));
  }

  static bool has_type(const Json& value, const Json& type) {
    if (type.is_array())
      return std::any_of(type.begin(), type.end(),
                         [&](const Json& one) { return has_type(value, one); });
    const std::string word = type;
    if (word == "object") return value.is_object();
    if (word == "array") return value.is_array();
    if (word == "string") return value.is_string();
    if (word == "boolean") return value.is_boolean();
    if (word == "null") return value.is_null();
    if (word == "integer") return value.is_number_integer();
    if (word == "number") return value.is_number();
    throw std::logic_error("unknown schema type " + word);
  }

  Fault object_fault(const Json& value, const Json& schema, const std::string& at,
                     int depth) const {
    for (const Json& name : schema.value("required", Json::array()))
      if (!value.contains(name.get<std::string>()))
        return fmt::format("{} lacks \"{}\".", at, name.get<std::string>());
    const Json properties = schema.value("properties", Json::object());
    const auto others = schema.find("additionalProperties");
    for (const auto& [name, member] : value.items()) {
      const std::string place = at + "." + name.substr(0, 60);
      const auto known = properties.find(name);
      if (known != properties.end()) {
        if (const Fault f = fault(member, *known, place, depth + 1)) return f;
      } else if (others != schema.end() && others->is_boolean() && !others->get<bool>()) {
        return fmt::format("{} is not known here.", place);
      } else if (others != schema.end() && others->is_object()) {
        if (const Fault f = fault(member, *others, place, depth + 1)) return f;
      }
    }
    return std::nullopt;
  }

  Fault array_fault(const Json& value, const Json& schema, const std::string& at, int depth) const {
    if (value.size() < schema.value("minItems", std::size_t{0}) ||
        value.size() > schema.value("maxItems", std::size_t{1'000'000}))
      return fmt::format("{} has {} members, which is too few or too many.", at, value.size());
    const auto items = schema.find("items");
    if (items == schema.end()) return std::nullopt;
    for (std::size_t i = 0; i < value.size(); ++i)
      if (const Fault f = fault(value[i], *items, fmt::format("{}[{}]", at, i), depth + 1))
        return f;
    return std::nullopt;
  }

  static Fault text_fault(const Json& value, const Json& schema, const std::string& at) {
    const std::string& text = value.get_ref<const std::string&>();
    if (text.size() < schema.value("minLength", std::size_t{0}) ||
        text.size() > schema.value("maxLength", std::size_t{1u << 20}))
      return fmt::format("{} is too short or too long.", at);
    // The length is held first, so that no pattern runs over an endless text.
    if (const auto pattern = schema.find("pattern"); pattern != schema.end())
      if (!std::regex_search(text, std::regex(pattern->get<std::string>())))
        return fmt::format("{} is not written as it should be.", at);
    return std::nullopt;
  }

  static Fault number_fault(const Json& value, const Json& schema, const std::string& at) {
    const double number = value;
    const bool holds = number >= schema.value("minimum", -1e300) &&
                       number <= schema.value("maximum", 1e300) &&
                       number > schema.value("exclusiveMinimum", -1e301);
    if (!holds) return fmt::format("{} is {}, which cannot be.", at, value.dump());
    return std::nullopt;
  }

  const Json& root_;
};

}  // namespace

std::optional<std::string> schema_fault(const Json& value, const Json& schema) {
  return Checker(schema).fault(value, schema, "the job", 0);
}

}  // namespace scantling
