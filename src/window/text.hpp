// Between the library's strings and Qt's.
#pragma once
#include <QString>
#include <string>

namespace eyebrow::window {

inline QString shown(const std::string& text) {
  return QString::fromStdString(text);
}
inline std::string plain(const QString& text) {
  return text.toStdString();
}

}  // namespace eyebrow::window
