// One table from one run: whole checks, single poses, other libraries on the same poses, growth.
#include <fmt/format.h>

#include <cstdio>
#include <exception>
#include <thread>

#include "bench/rows.hpp"

int main() {
  try {
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);  // rows appear as they are measured, in a pipe too
    for (const auto rows : {eyebrow::bench::sweep_rows, eyebrow::bench::follow_rows, eyebrow::bench::pose_rows,
                            eyebrow::bench::rival_rows, eyebrow::bench::growth_rows, eyebrow::bench::field_rows,
                            eyebrow::bench::study_rows})
      rows();
    fmt::print("\n{} cores, build type {}\n", std::thread::hardware_concurrency(), EYEBROW_BUILD_TYPE);
    return 0;
  } catch (const std::exception& error) {
    fmt::print(stderr, "bench: {}\n", error.what());
    return 4;
  }
}
