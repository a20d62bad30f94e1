// The engine file's numbers as a form: its tables as groups, its keys as fields, faults at the field.
#pragma once
#include <QWidget>
#include <map>
#include <string>
#include <vector>

#include "eyebrow/edit.hpp"
#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

class QLabel;
class QLineEdit;
class QScrollArea;
class QVBoxLayout;

namespace eyebrow::window {

class FormRow;
class FormGroup;

class NumberForm : public QWidget {
  Q_OBJECT

 public:
  explicit NumberForm(QWidget* parent = nullptr);
  ~NumberForm() override;

  /// The form of a text; the fields stay when only values differ. A text that is no TOML leaves the form as it is, but
  /// disabled: its faults say where to look.
  void show_text(const std::string& text, const std::string& name);
  /// Those of the newest text. Each stands at its field, or its group, or else at the top.
  void show_faults(const std::vector<Fault>& faults);
  /// The units that bare numbers are in, and from which table a number was taken over.
  void show_origins(const Origins& origins);
  /// Beside the file's own numbers what was measured of this cylinder instead; null: nothing was.
  void show_measured(const Origins& own, const MeasuredCylinder* cylinder);

  /// For a key that has a field: brings it to sight and puts the keyboard there.
  bool go_to(const std::string& key);
  void find();  ///< puts the keyboard into the search
  FormRow* row(const std::string& key) const;
  /// What could not be shown at a field.
  QString loose_faults() const;

 Q_SIGNALS:
  void edited(const std::string& key, const QString& typed);
  void taken_out(const std::string& key);
  void added(const std::string& key, const QString& typed);
  void left();

 private:
  void build(const std::vector<TextEntry>& entries, const std::vector<std::string>& tables);
  void filter(const QString& words);
  void take_found();
  FormRow* row_at(const Fault& fault) const;
  void ask_for_key(const std::string& table);

  QLineEdit* search_;
  QLabel* loose_;
  QScrollArea* scroll_;
  QWidget* inside_ = nullptr;
  std::vector<FormGroup*> groups_;
  std::map<std::string, FormRow*> rows_;
  std::vector<std::string> shape_;  ///< keys and tables that the fields were made for
};

}  // namespace eyebrow::window
