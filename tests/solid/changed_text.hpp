// A STEP file with something in it changed at random.
#pragma once
#include <gtest/gtest.h>

#include <cstdint>
#include <string>

namespace eyebrow {

/// One byte, line or number of a good file changed, a hundred times: taken or refused, whatever it is, and both now and
/// then. `refusal`: what is said of a text; empty = taken.
template <class Refusal>
void expect_no_change_ends_the_program(const std::string& good, std::uint64_t seed, const Refusal& refusal) {
  const std::size_t data = good.find("DATA;");
  std::uint64_t state = seed;
  const auto random = [&](std::size_t below) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;  // Knuth's MMIX generator
    return static_cast<std::size_t>(state >> 33) % below;
  };
  int taken = 0, refused = 0;
  for (int i = 0; i < 100; ++i) {
    std::string text = good;
    const std::size_t at = data + random(good.size() - data), line = text.find('\n', at);
    const std::size_t next = line == std::string::npos ? line : text.find('\n', line + 1);
    if (i % 3 == 0 && next != std::string::npos)
      text.erase(line, next - line);
    else if (i % 3 == 1)
      text[at] = "0123456789#,()'.E-$*"[random(20)];
    else if (const auto number = text.find_first_of("123456789", at); number != std::string::npos)
      text[number] = static_cast<char>('0' + random(10));
    SCOPED_TRACE(i);
    (refusal(text).empty() ? taken : refused)++;
  }
  EXPECT_GT(taken, 10);
  EXPECT_GT(refused, 10);
}

}  // namespace eyebrow
