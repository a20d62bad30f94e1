#include "asked.hpp"

#include <algorithm>
#include <cmath>

#include "lines.hpp"

namespace eyebrow {

const AskedRow* find_asked(const CheckResult& result, const std::string& what, const std::string& valve) {
  const auto row = std::find_if(result.asked.begin(), result.asked.end(), [&](const AskedRow& asked) {
    return !asked.running && asked.what == what && asked.valve == valve;
  });
  return row == result.asked.end() ? nullptr : &*row;
}

std::string pair_name(const PairResult& pair) {
  return pair.first + " / " + pair.second;
}

const Minimum* minimum_of(const CheckResult& result, const AskedRow& row) {
  if (row.running) return nullptr;
  for (const ValveResult& valve : result.valves) {
    if (valve.name != row.valve) continue;
    if (row.what == "valve to bore") return valve.bore.gap.measured() ? &valve.bore : nullptr;
    for (const auto& [kind, minimum] : valve.minimum)
      if (row.what == to_string(kind)) return minimum.gap.measured() ? &minimum : nullptr;
  }
  for (const PairResult& pair : result.pairs)
    if (row.what == "valve to valve" && row.valve == pair_name(pair))
      return pair.minimum.gap.measured() ? &pair.minimum : nullptr;
  return nullptr;
}

std::pair<int, int> valves_of(const CheckResult& result, const AskedRow& row) {
  std::pair<int, int> out{-1, -1};
  for (int i = 0; i < static_cast<int>(result.valves.size()); ++i) {
    const std::string& name = result.valves[static_cast<std::size_t>(i)].name;
    if (name == row.valve) return {i, -1};
    for (int k = i + 1; k < static_cast<int>(result.valves.size()); ++k)
      if (name + " / " + result.valves[static_cast<std::size_t>(k)].name == row.valve) out = {i, k};
  }
  return out;
}

const AskedRow* row_to_show(const CheckResult& result) {
  const AskedRow* tightest = nullptr;
  for (const AskedRow& each : result.asked) {
    const Minimum* const least = minimum_of(result, each);
    if (!least || !(least->lift > 0 || least->lift2 > 0 || each.margin < 0)) continue;
    if (!tightest || each.margin < tightest->margin) tightest = &each;
  }
  return tightest ? tightest : tightest_row(result);
}

std::string row_name(const AskedRow& row) {
  const std::string name = row.valve.empty() ? row.what : printable(row.valve, 60) + ", " + row.what;
  return row.running ? name + ", running" : name;
}

const char* mark(const AskedRow* asked, bool touches) {
  if (touches) return "CONTACT";
  // Where nothing was found another gap has to hold, which the note says.
  if (!asked || (std::isnan(asked->found) && asked->holds)) return "";
  return asked->holds ? "holds" : "SHORT";
}

}  // namespace eyebrow
