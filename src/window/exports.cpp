#include "window/exports.hpp"

#include <fmt/format.h>

#include <QDir>
#include <QFileInfo>
#include <QSaveFile>

#include "eyebrow/plot.hpp"
#include "window/text.hpp"

namespace eyebrow::window {

void write_whole(const QString& path, const std::string& bytes) {
  QSaveFile file(path);
  const auto size = static_cast<qint64>(bytes.size());
  if (!file.open(QIODevice::WriteOnly) || file.write(bytes.data(), size) != size || !file.commit())
    throw MachineError(fmt::format("{}: cannot be written: {}", plain(path), plain(file.errorString())));
}

void export_report(const QString& path, const Checked& checked, const Format& format) {
  const bool many = checked.all.each.size() > 1;
  const CheckResult& one = *checked.result;
  const QString ending = QFileInfo(path).suffix().toLower();
  if (ending == "txt") return write_whole(path, many ? check_text(checked.all, format) : check_text(one, format));
  if (ending == "csv") return write_whole(path, many ? check_csv(checked.all, format) : check_csv(one, format));
  if (ending == "json") return write_whole(path, many ? check_json(checked.all) : check_json(one));
  if (const auto kind = plot_file(plain(path))) return write_whole(path, plot_curves(one, "", *kind, format));
  throw InputError({{plain(path), 0, 0,
                     fmt::format("ends in \".{}\"; allowed are .txt, .csv, .json, and .svg, .pdf, .png for the plot",
                                 plain(ending))}});
}

bool export_frames(const QString& folder, int count, const std::function<std::string(int)>& picture,
                   const std::function<bool(int)>& go_on) {
  for (int i = 0; i < count; ++i) {
    const QString name = QString("frame_%1.png").arg(i + 1, 4, 10, QChar('0'));
    write_whole(QDir(folder).filePath(name), picture(i));
    if (!go_on(i + 1)) return false;
  }
  return true;
}

}  // namespace eyebrow::window
