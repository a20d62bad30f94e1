// One table of the engine file in the form: a heading that folds, and its rows.
#pragma once
#include <QWidget>
#include <string>
#include <vector>

class QLabel;
class QToolButton;
class QVBoxLayout;

namespace eyebrow::window {

class FormRow;

class FormGroup : public QWidget {
  Q_OBJECT

 public:
  FormGroup(const std::string& table, QWidget* parent);
  const std::string& table() const { return table_; }
  void add(FormRow* row);
  const std::vector<FormRow*>& rows() const { return rows_; }
  void show_fault(const QString& message);
  void fold(bool folded);
  /// Shows the rows that have these words; nothing typed = all.
  void filter(const QString& words);

 Q_SIGNALS:
  void key_wanted(const std::string& table);

 private:
  std::string table_;
  QToolButton* heading_;
  QWidget* body_;
  QVBoxLayout* layout_;
  QLabel* fault_;
  std::vector<FormRow*> rows_;
};

}  // namespace eyebrow::window
