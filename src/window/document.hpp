// The engine file that the window is about: its text, what may be undone, and its place on the disk.
#pragma once
#include <QFileSystemWatcher>
#include <QObject>
#include <QTimer>
#include <QUndoStack>
#include <string>

namespace eyebrow::window {

/// Every change, by a field or by hand, is one of the text, so that comments live and everything can be undone.
class Document : public QObject {
  Q_OBJECT

 public:
  explicit Document(QObject* parent = nullptr);

  const std::string& text() const { return text_; }
  /// Empty: it has no place on the disk yet.
  const QString& path() const { return path_; }
  /// Stands for the file in messages.
  std::string name() const;
  /// Is there something that a save would write?
  bool changed() const;
  QUndoStack& undo_stack() { return undo_; }

  /// Another file. Throws InputError where it cannot be read; what is no engine is taken all the same: its faults are
  /// shown, and it can be mended.
  void open(const QString& path);
  /// Another text without a place.
  void begin(std::string text);
  /// What the disk has now, as a change that can be undone. Throws as `open`.
  void reload();
  /// Throws MachineError; the file is then as it was.
  void save();
  void save_as(const QString& path);

  /// Changes of one key that follow each other are undone as one, until end_of_typing(). Throws as edited_text.
  void set_value(const std::string& key, const std::string& typed);
  void take_out(const std::string& key);
  /// The whole text, by hand.
  void set_text(std::string text);
  void end_of_typing() { ++typing_; }

 Q_SIGNALS:
  /// Another file, or none: its text follows.
  void taken();
  void text_changed();
  /// Another path, or another answer of changed().
  void state_changed();
  /// The disk has another text than was last read or saved.
  void changed_on_disk();

 private:
  friend class TextChange;
  void put(std::string text);
  void push(std::string text, const QString& what, const std::string& key);
  void take_place(const QString& path, std::string saved);
  void look_at_disk();
  void watch();

  std::string text_, saved_;
  QString path_;
  QUndoStack undo_;
  int typing_ = 0;
  QFileSystemWatcher watcher_;
  QTimer look_;
};

}  // namespace eyebrow::window
