#include "window/form_words.hpp"

#include <algorithm>
#include <map>

#include "window/text.hpp"

namespace eyebrow::window {

QString table_title(const std::string& table) {
  if (table.empty()) return "engine";
  QString title = shown(table);
  return title.replace('.', ' ');
}

QString key_label(const std::string& key, const std::string& table) {
  std::string rest = table.empty() ? key : key.substr(std::min(key.size(), table.size() + 1));
  // Names are the user's own and keep their underscores; of keys only the last part is in words.
  const std::size_t dot = rest.rfind('.');
  if (dot == std::string::npos) return shown(rest).replace('_', ' ');
  QString last = shown(rest.substr(dot + 1)).replace('_', ' ');
  QString before = shown(rest.substr(0, dot)).replace('_', ' ').replace('.', ' ');
  return before + ", " + last;
}

QStringList words_of(const std::string& key) {
  static const std::map<std::string, QStringList> kWords = {
      {"units", {"mm", "in"}},
      {"rotation", {"clockwise", "counterclockwise"}},
      {"depth_to", {"deepest", "sharp edge", "floor centre"}},
      {"floor", {"flat", "valve face"}},
      {"shape", {"sphere", "cone"}},
      {"role", {"intake", "exhaust"}},
      {"face", {"flat", "dished", "domed"}},
      {"measured", {"lobe", "valve"}},
      {"lift_measured", {"lobe", "valve"}},
      {"table_degrees", {"cam", "crank"}},
      {"table_angles", {"from centre", "crank angle"}},
      {"law", {"harmonic", "cycloidal", "3-4-5", "4-5-6-7", "modified sine", "modified trapezoid"}},
  };
  if (key == "check.lash") return {"zero", "running"};
  const auto found = kWords.find(key.substr(key.rfind('.') + 1));
  return found == kWords.end() ? QStringList{} : found->second;
}

}  // namespace eyebrow::window
