#include "window/document.hpp"

#include <fmt/format.h>

#include <QFileInfo>
#include <QSaveFile>
#include <QUndoCommand>

#include "eyebrow/edit.hpp"
#include "eyebrow/fault.hpp"
#include "spec/text_file.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

/// As for EngineText: only to keep nonsense out of memory.
constexpr TextLimits kLimits{std::size_t{4} << 20, 1000000};
/// A program that writes in pieces should be done by then, ms.
constexpr int kSettle = 150;

std::string read_file(const QString& path) {
  TextFile file = read_text(plain(path), kLimits);
  if (!file.trouble.empty()) throw InputError({{plain(path), 0, 0, file.trouble}});
  return std::move(file.text);
}

}  // namespace

class TextChange : public QUndoCommand {
 public:
  TextChange(Document& of, std::string after, const QString& what, std::string key)
      : QUndoCommand(what),
        of_(of),
        before_(of.text_),
        after_(std::move(after)),
        key_(std::move(key)),
        typing_(of.typing_) {}
  int id() const override { return key_.empty() ? -1 : 1; }
  bool mergeWith(const QUndoCommand* next) override {
    const auto& other = static_cast<const TextChange&>(*next);
    if (other.key_ != key_ || other.typing_ != typing_) return false;
    after_ = other.after_;
    setObsolete(after_ == before_);
    return true;
  }
  void undo() override { of_.put(before_); }
  void redo() override { of_.put(after_); }

 private:
  Document& of_;
  std::string before_, after_, key_;
  int typing_;
};

Document::Document(QObject* parent) : QObject(parent) {
  look_.setSingleShot(true);
  look_.setInterval(kSettle);
  connect(&undo_, &QUndoStack::cleanChanged, this, &Document::state_changed);
  connect(&watcher_, &QFileSystemWatcher::fileChanged, this, [this] { look_.start(); });
  connect(&look_, &QTimer::timeout, this, &Document::look_at_disk);
}

std::string Document::name() const {
  return path_.isEmpty() ? "new engine" : plain(QFileInfo(path_).fileName());
}

bool Document::changed() const {
  return !undo_.isClean();
}

void Document::open(const QString& path) {
  take_place(path, read_file(path));
}

void Document::begin(std::string text) {
  take_place("", std::move(text));
  undo_.resetClean();
  Q_EMIT state_changed();
}

void Document::take_place(const QString& path, std::string saved) {
  path_ = path.isEmpty() ? path : QFileInfo(path).absoluteFilePath();
  saved_ = std::move(saved);
  ++typing_;
  undo_.clear();
  undo_.setClean();
  watch();
  Q_EMIT taken();
  put(saved_);
  Q_EMIT state_changed();
}

void Document::reload() {
  saved_ = read_file(path_);
  if (saved_ != text_) push(saved_, tr("reload"), "");
  undo_.setClean();
  watch();
}

void Document::save() {
  save_as(path_);
}

void Document::save_as(const QString& path) {
  QSaveFile file(path);
  const auto refuse = [&] {
    throw MachineError(fmt::format("{}: cannot be written: {}", plain(path), plain(file.errorString())));
  };
  if (!file.open(QIODevice::WriteOnly)) refuse();
  if (file.write(text_.data(), static_cast<qint64>(text_.size())) != static_cast<qint64>(text_.size())) refuse();
  if (!file.commit()) refuse();
  path_ = QFileInfo(path).absoluteFilePath();
  saved_ = text_;
  ++typing_;
  undo_.setClean();
  watch();
  Q_EMIT state_changed();
}

void Document::set_value(const std::string& key, const std::string& typed) {
  push(edited_text(text_, key, typed), shown(key), key);
}

void Document::take_out(const std::string& key) {
  push(text_without(text_, key), tr("take out %1").arg(shown(key)), "");
}

void Document::set_text(std::string text) {
  push(std::move(text), tr("text"), "the text by hand");
}

void Document::push(std::string text, const QString& what, const std::string& key) {
  if (text == text_) return;
  undo_.push(new TextChange(*this, std::move(text), what, key));
}

void Document::put(std::string text) {
  text_ = std::move(text);
  Q_EMIT text_changed();
}

void Document::watch() {
  // A program that replaces the file as a whole takes the watched one away: it is named anew each time.
  if (!watcher_.files().isEmpty()) watcher_.removePaths(watcher_.files());
  if (!path_.isEmpty()) watcher_.addPath(path_);
}

void Document::look_at_disk() {
  watch();
  try {
    if (read_file(path_) != saved_) Q_EMIT changed_on_disk();
  } catch (const InputError&) {
    // Gone, or not readable: what is shown here is the only copy, and a save writes it back.
    undo_.resetClean();
  }
}

}  // namespace eyebrow::window
