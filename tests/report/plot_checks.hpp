// What every plot has to satisfy.
#pragma once
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "report/plot_page.hpp"

namespace eyebrow::testing {

/// Every text lies on the page, none lies on another, and none is a number that is none.
inline void expect_tidy(const plot::Page& page) {
  const plot::Box paper{0, 0, page.width(), page.height()};
  const auto& all = page.written();
  for (std::size_t i = 0; i < all.size(); ++i) {
    EXPECT_TRUE(paper.holds(all[i].box)) << all[i].text;
    for (const char* wrong : {"nan", "inf ", "inf)", "-inf"})
      EXPECT_THAT(all[i].text, ::testing::Not(::testing::HasSubstr(wrong)));
    for (std::size_t k = i + 1; k < all.size(); ++k)
      EXPECT_FALSE(all[i].box.meets(all[k].box.grown(-1))) << all[i].text << " | " << all[k].text;
  }
}

/// Is it there, in one line or broken to several?
inline bool wrote(const plot::Page& page, const std::string& text) {
  std::string all;
  for (const auto& each : page.written()) all += each.text + ' ';
  return all.find(text) != std::string::npos;
}

/// All that was written, a line a text.
inline std::string words_of(const plot::Page& page) {
  std::string out;
  for (const auto& each : page.written()) out += each.text + '\n';
  return out;
}

}  // namespace eyebrow::testing
