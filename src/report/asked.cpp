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
