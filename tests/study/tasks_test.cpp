// Threads, progress and stop change nothing in the result.
#include <gtest/gtest.h>
#include <tbb/global_control.h>

#include <bit>
#include <cstdint>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/spec.hpp"
#include "study/disc_engine.hpp"

namespace eyebrow::study {
namespace {

/// Every number of a result as its bits, in a fixed order.
class Bits {
 public:
  void add(double value) { words_.push_back(std::bit_cast<std::uint64_t>(value)); }
  void add(Vec3 point) {
    for (double value : {point.x, point.y, point.z}) add(value);
  }
  void add(const std::string& text) {
    for (char c : text) words_.push_back(static_cast<unsigned char>(c));
  }
  void add(const Minimum& least) {
    for (double value : {least.gap.value, least.gap.low, least.gap.high, least.crank, least.span_from, least.span_to,
                         least.before, least.after, least.open_least, least.open_crank, least.lift, least.lift2,
                         least.piston_depth, least.entry, least.clock, least.from_centre})
      add(value);
    add(least.point_valve);
    add(least.point_other);
    add(static_cast<double>(least.gap.status));
    add(static_cast<double>(least.gap.valve_part));
    add(static_cast<double>(least.gap.other_face));
    add(least.face_valve + "|" + least.face_other + "|" + least.reason);
  }
  void add(const CheckResult& result) {
    for (const ValveResult& valve : result.valves) {
      for (const auto& [kind, least] : valve.minimum) add(least);
      add(valve.bore);
      add(valve.deepest_entry);
      add(valve.deepest_entry_crank);
      const Series& s = valve.series;
      for (const auto* column : {&s.crank, &s.lift, &s.piston_depth, &s.travel, &s.face, &s.radial, &s.closest,
                                 &s.entry, &s.drop_travel, &s.greatest_lift})
        for (double value : *column) add(value);
    }
    for (const PairResult& pair : result.pairs) add(pair.minimum);
    for (const AskedRow& row : result.asked) {
      add(row.what + "|" + row.valve + "|" + row.note);
      add(row.found);
      add(row.margin);
    }
  }
  bool operator==(const Bits&) const = default;
  std::size_t size() const { return words_.size(); }

 private:
  std::vector<std::uint64_t> words_;
};

Bits bits_with(int threads, const Engine& engine, const Parts& parts) {
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(threads));
  Bits bits;
  bits.add(run_check(engine, parts, stepping(4 * kDegree, true)));
  return bits;
}

void expect_same_on_all(const Engine& engine, const Parts& parts) {
  const Bits one = bits_with(1, engine, parts);
  EXPECT_GT(one.size(), 3000u);
  EXPECT_TRUE(one == bits_with(2, engine, parts));
  EXPECT_TRUE(one == bits_with(4, engine, parts));
}

TEST(Tasks, SameBytesOnAnyNumberOfThreads) {
  const Engine engine = disc_engine();
  expect_same_on_all(engine, disc_parts(engine));
}

TEST(Tasks, SameBytesOnAnyNumberOfThreadsWithPockets) {
  const EngineFile file = read_engine(EYEBROW_MODELS "/two_valve_wedge.toml");
  expect_same_on_all(file.engine, build_parts(file.engine, file.origins));
}

TEST(Tasks, ProgressRisesToOne) {
  const Engine engine = disc_engine();
  std::vector<double> seen;
  CheckOptions options;
  options.step = 2 * kDegree;
  options.progress = [&](double part) { seen.push_back(part); };
  run_check(engine, disc_parts(engine), options);
  ASSERT_GT(seen.size(), 50u);
  for (std::size_t i = 1; i < seen.size(); ++i) EXPECT_GE(seen[i], seen[i - 1]);
  EXPECT_GT(seen.front(), 0);
  EXPECT_DOUBLE_EQ(seen.back(), 1);
}

TEST(Tasks, StopEndsIt) {
  const Engine engine = disc_engine();
  int asked = 0;
  CheckOptions options;
  options.stop = [&] { return ++asked > 5; };
  EXPECT_THROW(run_check(engine, disc_parts(engine), options), Interrupted);
  EXPECT_LT(asked, 20);
}

}  // namespace
}  // namespace eyebrow::study
