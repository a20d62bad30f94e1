// What the form calls the tables and keys of the engine file.
#pragma once
#include <QString>
#include <QStringList>
#include <string>

namespace eyebrow::window {

/// "valve.intake_front" to "valve intake_front"; the top of the file to "engine".
QString table_title(const std::string& table);

/// What of the key stands behind its table: "rim height", "durations 2, at".
QString key_label(const std::string& key, const std::string& table);

/// The words that a key may have; empty: any.
QStringList words_of(const std::string& key);

}  // namespace eyebrow::window
