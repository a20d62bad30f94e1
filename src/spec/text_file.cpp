#include "spec/text_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

namespace eyebrow {
namespace {

std::string reason(int error) {
  if (error == ENOENT) return "there is no such file";
  if (error == EISDIR) return "is a folder, not a file";
  return "cannot be read: " + std::generic_category().message(error);
}

}  // namespace

std::string text_trouble(const std::string& text, const TextLimits& limits) {
  const auto zero = text.find('\0');
  if (zero != std::string::npos) return fmt::format("is not text: byte {} is zero", zero + 1);
  if (text.size() > limits.bytes) return fmt::format("is longer than {} MiB", limits.bytes >> 20);
  if (static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')) > limits.lines)
    return fmt::format("has more than {} lines", limits.lines);
  return {};
}

TextFile read_text(const std::string& path, const TextLimits& limits) {
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored)) return {{}, reason(EISDIR)};
  errno = 0;
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), &std::fclose);
  if (!file) return {{}, reason(errno)};
  // One byte more than is allowed tells that there is more; a device may have no end.
  TextFile out;
  char block[65536];
  while (out.text.size() <= limits.bytes) {
    const std::size_t got = std::fread(block, 1, sizeof block, file.get());
    out.text.append(block, got);
    if (got == sizeof block) continue;
    if (std::ferror(file.get())) return {{}, reason(errno)};
    break;
  }
  out.trouble = text_trouble(out.text, limits);
  if (!out.trouble.empty()) out.text.clear();
  return out;
}

}  // namespace eyebrow
