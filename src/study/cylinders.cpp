// Of the checks of several cylinders: which is the worst.
#include <cmath>

#include "eyebrow/check.hpp"

namespace eyebrow {
namespace {

/// The less, the sooner a row has to be told: no number at all and not held comes before any margin.
double order_of(const AskedRow& row) {
  if (!std::isnan(row.margin)) return row.margin;
  return row.holds ? INFINITY : -INFINITY;
}

double tightness(const CheckResult& result) {
  const AskedRow* row = tightest_row(result);
  return row ? order_of(*row) : INFINITY;
}

bool worse(const CheckResult& one, const CheckResult& other) {
  if (one.verdict != other.verdict) return one.verdict > other.verdict;  // holds, short, contact
  return tightness(one) < tightness(other);
}

}  // namespace

const AskedRow* tightest_row(const CheckResult& result) {
  const AskedRow* tightest = nullptr;
  double least = INFINITY;
  for (const AskedRow& row : result.asked) {
    if (order_of(row) >= least) continue;
    tightest = &row;
    least = order_of(row);
  }
  return tightest;
}

std::size_t worst_of(const std::vector<CheckResult>& results) {
  if (results.empty()) throw Error("there is no worst of no results");
  std::size_t worst = 0;
  for (std::size_t i = 1; i < results.size(); ++i)
    if (worse(results[i], results[worst])) worst = i;
  return worst;
}

}  // namespace eyebrow
