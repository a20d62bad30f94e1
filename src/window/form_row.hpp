// One key of the engine file in the form.
#pragma once
#include <QWidget>
#include <string>

#include "eyebrow/edit.hpp"

class QComboBox;
class QLabel;

namespace eyebrow::window {

class NumberField;

class FormRow : public QWidget {
  Q_OBJECT

 public:
  FormRow(const TextEntry& entry, QWidget* parent);
  /// Another value under the same key.
  void show_entry(const TextEntry& entry);
  void show_fault(const QString& message);
  /// What counts instead of the number, small below it; empty: the number does.
  void show_note(const QString& note);
  /// Of a bare number; one that is typed with its unit has it in its text.
  void show_unit(const QString& unit);
  /// The unit of lengths in the file: limits are told in it.
  void show_inches(bool inches);
  const TextEntry& entry() const { return entry_; }
  QString fault() const;
  QString note() const;
  QString typed() const;
  /// Does it have all these words, in its label, key or comment?
  bool answers(const QString& words) const;
  void take_keyboard();
  NumberField* number() const { return number_; }  ///< null where words are chosen
  QComboBox* choice() const { return choice_; }    ///< null where numbers are typed

 Q_SIGNALS:
  void edited(const std::string& key, const QString& typed);
  void taken_out(const std::string& key);
  void left();

 private:
  void contextMenuEvent(QContextMenuEvent* event) override;
  void explain();
  void write_unit();

  TextEntry entry_;
  QString unit_of_bare_;
  bool inches_ = false;
  QLabel* label_;
  NumberField* number_ = nullptr;
  QComboBox* choice_ = nullptr;
  QLabel* unit_;
  QLabel *fault_, *note_;
};

}  // namespace eyebrow::window
