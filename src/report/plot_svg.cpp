#include "plot_svg.hpp"

#include <fmt/format.h>

#include <map>

namespace eyebrow::plot {
namespace {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else
      out += c;
  }
  return out;
}

bool of_a_name(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' || c == '_';
}

/// Every id, and every use of it, by its number in the order of the file.
std::string renumbered(const std::string& svg) {
  std::map<std::string, std::string> numbers;
  std::string out;
  out.reserve(svg.size());
  for (std::size_t i = 0; i < svg.size();) {
    // An id is made with id="..." and used with "#...": both end where the name does.
    const bool made = svg.compare(i, 5, " id=\"") == 0;
    const bool used = (svg[i] == '#') && i > 0 && (svg[i - 1] == '"' || svg[i - 1] == '(');
    if (!made && !used) {
      out += svg[i++];
      continue;
    }
    const std::size_t start = i + (made ? 5 : 1);
    std::size_t end = start;
    while (end < svg.size() && of_a_name(svg[end])) ++end;
    std::string& number = numbers[svg.substr(start, end - start)];
    if (number.empty()) number = fmt::format("n{}", numbers.size());
    out.append(svg, i, start - i);
    out += number;
    i = end;
  }
  return out;
}

}  // namespace

std::string finished_svg(const std::string& svg, const std::string& title, const std::vector<std::string>& texts) {
  std::string out = renumbered(svg);
  std::string said = "\n<title>" + escaped(title) + "</title>\n<desc>\n";
  for (const std::string& text : texts) said += escaped(text) + '\n';
  said += "</desc>";
  const std::size_t root = out.find("<svg");
  const std::size_t at = root == std::string::npos ? root : out.find('>', root);
  return at == std::string::npos ? out : out.insert(at + 1, said);
}

}  // namespace eyebrow::plot
