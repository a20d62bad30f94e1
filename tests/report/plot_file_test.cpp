// The files as such: kind, size, the same bytes again.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "eyebrow/plot.hpp"
#include "report/plot_checks.hpp"
#include "report/plot_svg.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using testing::kMm;
using ::testing::Not;
using ::testing::StartsWith;

MapResult small_map() {
  MapResult map;
  map.engine = "sample";
  map.inputs = {{"gasket.thickness", "mm", {0.8, 1.0, 1.2}, 1.0}, {"cam.advance", "deg", {-4, 0, 4}, 0}};
  map.gaps = {{"travel", "intake", 2.0, false}};
  for (const double advance : {-4.0, 0.0, 4.0})
    for (const double gasket : {0.8, 1.0, 1.2}) {
      MapCell cell;
      cell.found = {1.2 + gasket - 0.05 * advance};
      cell.holds = {cell.found[0] >= 2};
      cell.verdict = cell.holds[0] ? Verdict::holds : Verdict::short_;
      map.cells.push_back(cell);
    }
  return map;
}

std::vector<std::function<std::string(PlotFile)>> plots() {
  Histogram histogram;
  histogram.title = "sample";
  for (int i = 0; i < 100; ++i) histogram.samples.push_back(0.01 * i);
  const Bars bars{"sample", "", "change", "mm", {{"a", 1}, {"b", -2}}, {}};
  return {[](PlotFile kind) { return plot_curves(testing::sample_result(), "", kind, kMm); },
          [](PlotFile kind) { return plot_map(small_map(), {}, kind, kMm); },
          [=](PlotFile kind) { return plot_histogram(histogram, kind, kMm); },
          [=](PlotFile kind) { return plot_bars(bars, kind, kMm); }};
}

TEST(PlotFile, TheEndingDecides) {
  EXPECT_EQ(plot_file("a.svg"), PlotFile::svg);
  EXPECT_EQ(plot_file("out/b.x.PDF"), PlotFile::pdf);
  EXPECT_EQ(plot_file("c.Png"), PlotFile::png);
  for (const char* other : {"", "svg", "a.sv", "a.svg.gz", "a.jpg", "png/"}) EXPECT_FALSE(plot_file(other)) << other;
}

// PNG specification (ISO/IEC 15948), 5.2: signature; 11.2.2: IHDR with width and height, four bytes each.
TEST(PlotFile, PngHasItsSignatureAndSize) {
  for (const auto& plot : plots()) {
    const std::string file = plot(PlotFile::png);
    ASSERT_GT(file.size(), 33u);
    EXPECT_EQ(file.substr(0, 8), "\x89PNG\r\n\x1a\n");
    EXPECT_EQ(file.substr(12, 4), "IHDR");
    const auto number = [&](std::size_t at) {
      unsigned value = 0;
      for (std::size_t i = at; i < at + 4; ++i) value = value << 8 | static_cast<unsigned char>(file[i]);
      return value;
    };
    EXPECT_EQ(number(16), 2000u);
    EXPECT_GE(number(20), 600u) << "bars: as high as their rows";
    EXPECT_EQ(file.substr(file.size() - 8, 4), "IEND");
  }
}

// ISO 32000-1, 7.5.2 and 7.5.5.
TEST(PlotFile, PdfHasItsHeaderEndAndNoTimeOfDay) {
  for (const auto& plot : plots()) {
    const std::string file = plot(PlotFile::pdf);
    EXPECT_EQ(file.substr(0, 7), "%PDF-1.");
    EXPECT_THAT(file.substr(file.size() - 8), HasSubstr("%%EOF"));
    EXPECT_NE(file.find("20000101000000Z"), std::string::npos) << "the date of making";
  }
}

TEST(PlotFile, SvgSaysItsTitleAndWords) {
  for (const auto& plot : plots())
    EXPECT_THAT(plot(PlotFile::svg),
                AllOf(StartsWith("<?xml"), HasSubstr("<title>sample"), HasSubstr("Caution: an aid."),
                      HasSubstr("width=\"1000pt\""), Not(HasSubstr("nan"))));
}

TEST(PlotFile, TheSameBytesAgain) {
  for (const PlotFile kind : {PlotFile::svg, PlotFile::pdf, PlotFile::png})
    for (const auto& plot : plots()) EXPECT_TRUE(plot(kind) == plot(kind)) << static_cast<int>(kind);
}

TEST(PlotFile, NamesMayHoldAnyBytes) {
  CheckResult result = testing::sample_result();
  for (const std::string name :
       {"a < b & \"c\" > d", "\xff\xfe broken \xc3", "line\nbreak\x1b[31m", "\xed\xa0\x80 surrogate",
        "\xef\xbf\xbf no character", "\xe5\x83\x8f \xf0\x9f\x94\xa7"}) {
    result.engine = result.valves[0].name = name;
    for (const PlotFile kind : {PlotFile::svg, PlotFile::pdf, PlotFile::png})
      EXPECT_GT(plot_curves(result, "", kind, kMm).size(), 1000u);
  }
  result.engine = "a < b & c";
  EXPECT_THAT(plot_curves(result, "", PlotFile::svg, kMm), HasSubstr("<title>a &lt; b &amp; c</title>"));
  result.engine = "\xff!";
  EXPECT_THAT(plot_curves(result, "", PlotFile::svg, kMm), HasSubstr("<title>?!</title>"));
}

TEST(PlotFile, IdsAreCountedFromOne) {
  EXPECT_EQ(
      plot::finished_svg("<svg a=\"b\"><g id=\"glyph0-7\"/><use xlink:href=\"#glyph0-7\"/><p clip-path=\"url(#c9)\"/>"
                         "<c id=\"c9\"/></svg>",
                         "t", {"w"}),
      "<svg a=\"b\">\n<title>t</title>\n<desc>\nw\n</desc><g id=\"n1\"/><use xlink:href=\"#n1\"/>"
      "<p clip-path=\"url(#n2)\"/><c id=\"n2\"/></svg>");
}

}  // namespace
}  // namespace eyebrow
