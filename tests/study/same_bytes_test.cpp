// A whole check, told as JSON, is the same to the byte on 1, 2 and 4 threads, cold (solids and everything made of them
// built anew) and warm (asked again, after a check of something else).
#include <gtest/gtest.h>
#include <tbb/global_control.h>

#include "eyebrow/check.hpp"
#include "eyebrow/report.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow::study {
namespace {

std::string told(const EngineFile& file, const Parts& parts, int threads) {
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(threads));
  CheckOptions options;
  options.step = 5 * kDegree;
  return check_json(run_check(file.engine, parts, options));
}

TEST(SameBytes, OnAnyNumberOfThreadsColdAndWarm) {
  const EngineFile other = read_engine(EYEBROW_MODELS "/inline_six_stock.toml");
  const Parts other_parts = build_parts(other.engine, other.origins);
  const EngineFile file = read_engine(EYEBROW_MODELS "/four_valve_pent_roof.toml");
  std::string first;
  for (const int threads : {1, 2, 4}) {
    const Parts parts = build_parts(file.engine, file.origins);
    const std::string cold = told(file, parts, threads);
    if (first.empty()) first = cold;
    EXPECT_GT(first.size(), 5000u);
    EXPECT_TRUE(cold == first) << "cold, " << threads << " threads";
    if (threads == 1) continue;
    told(other, other_parts, threads);
    EXPECT_TRUE(told(file, parts, threads) == first) << "warm, after another, " << threads << " threads";
  }
}

}  // namespace
}  // namespace eyebrow::study
