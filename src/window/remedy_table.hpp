// What would restore short gaps, as `check` prints it; a row can be put into the file.
#pragma once
#include <QTableWidget>

#include "eyebrow/report.hpp"

namespace eyebrow::window {

class RemedyTable : public QTableWidget {
  Q_OBJECT

 public:
  explicit RemedyTable(QWidget* parent = nullptr);
  void show_remedies(const std::vector<GapRemedies>& remedies, const Format& format);
  /// What the chosen row changes; null where it changes nothing.
  const Remedy* chosen() const;
  enum Column { change, effect, columns };

 Q_SIGNALS:
  void wanted();  ///< the chosen row, by a double click or Return

 protected:
  void keyPressEvent(QKeyEvent* event) override;

 private:
  void fit();
  void add_heading(const QString& text);
  void add_note(const QString& text);
  void add(const Remedy& remedy, const Format& format, bool several);

  std::vector<GapRemedies> remedies_;
  std::vector<const Remedy*> of_row_;  ///< into remedies_; null: a heading or a note
};

}  // namespace eyebrow::window
