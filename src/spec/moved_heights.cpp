#include "spec/moved_heights.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/nearest.hpp"
#include "spec/overrides.hpp"
#include "spec/rim_height.hpp"

namespace eyebrow {
namespace {

/// Less is rounding in the sines.
constexpr double kMoved = 1e-9;

bool set_by_override(const Context& context, const std::string& key) {
  const auto found = context.origins.find(key);
  return found != context.origins.end() && found->second.file == kSetFile;
}

double flush_lift(const Valve& valve) {
  return flush_lift_from_height(valve.rim_height, valve.tilt, valve.head_diameter / 2);
}

void tell(Context& context, const Valve& before, const Valve& after) {
  const std::string path = "valve." + after.name;
  std::vector<std::string> set;
  for (const char* key : {"head_diameter", "tilt", "tilt_xz", "tilt_yz"})
    if (set_by_override(context, path + "." + key)) set.push_back(path + "." + key);
  // Another valve's number may have come here by `like`.
  const std::string cause = set.empty() ? path + " changes with the one that it is like" : joined(set);
  const auto say = [&](const char* held, double at, const char* what, double from, double to, const char* other) {
    if (set_by_override(context, path + "." + held) || !(std::fabs(from - to) > kMoved)) return;
    context.warn(
        {kSetFile, 0, 0},
        fmt::format("{0}: {1}.{2} is held at {3}, so {4} moves from {5} to {6}; to hold that, state {1}.{7} in "
                    "the file in place of {1}.{2}",
                    cause, path, held, context.length_text(at), what, context.length_text(from),
                    context.length_text(to), other));
  };
  if (context.given(path + ".rim_height"))
    say("rim_height", after.rim_height, "the flush lift", flush_lift(before), flush_lift(after), "flush_lift");
  else
    say("flush_lift", flush_lift(after), "the closed rim plane above the head's deck face", before.rim_height,
        after.rim_height, "rim_height");
}

}  // namespace

void tell_moved_heights(Context& context, const Engine& before, const Engine& after) {
  for (const Valve& valve : after.valves) {
    const auto same = std::find_if(before.valves.begin(), before.valves.end(),
                                   [&](const Valve& each) { return each.name == valve.name; });
    if (same != before.valves.end()) tell(context, *same, valve);
  }
}

}  // namespace eyebrow
