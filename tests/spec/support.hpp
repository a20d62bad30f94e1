// What the tests of the engine file share.
#pragma once
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "eyebrow/spec.hpp"

namespace eyebrow::testing {

/// The example engines in models/ whose every number is tried one by one.
inline const std::vector<std::string> kModels = {"two_valve_wedge",     "inline_six_stock",     "inline_six_big_valve",
                                                 "inline_six_measured", "four_valve_pent_roof", "canted_valve"};
/// And those that add something to one of them.
inline const std::vector<std::string> kAllModels = [] {
  std::vector<std::string> all = kModels;
  all.insert(all.end(), {"two_valve_wedge_at_speed", "two_valve_wedge_stack", "four_valve_pent_roof_phased"});
  return all;
}();

inline constexpr double kThou = 0.0254;  // mm

std::string model_path(const std::string& name);
std::string file_text(const std::string& path);

/// The two-valve wedge with one piece of text put in place of another that stands there exactly once.
std::string wedge();
std::string replaced(const std::string& text, const std::string& from, const std::string& to);
inline std::string wedge_with(const std::string& from, const std::string& to) {
  return replaced(wedge(), from, to);
}

inline std::string pent_roof() {
  return file_text(model_path("four_valve_pent_roof"));
}

/// "line:column" of the only place where `piece` stands in `text`.
std::string position(const std::string& text, const std::string& piece);

/// What parse_engine refuses, as the user reads it; empty when it refuses nothing. The file is called "e.toml".
std::vector<std::string> faults_of(const std::string& text, const std::vector<Override>& overrides = {});
std::vector<std::string> warnings_of(const std::string& text, const std::vector<Override>& overrides = {});
/// What it throws fails the test.
EngineFile parsed(const std::string& text, const std::vector<Override>& overrides = {});

/// Every number and word of an engine, a line each: to compare two.
std::string dump(const Engine& engine);

/// One slip, and the one message that it must give.
struct Slip {
  std::string from, to;               ///< edit of the wedge
  std::string at;                     ///< whose place the message must name, looked for in `to` first; empty = `to`
  std::vector<std::string> contains;  ///< what the message must say
};
void PrintTo(const Slip& slip, std::ostream* out);
void expect_one_fault(const Slip& slip);
/// The same for a whole text; `at` stands in it once.
void expect_one_fault(const std::string& text, const std::string& at, const std::vector<std::string>& contains);

}  // namespace eyebrow::testing
